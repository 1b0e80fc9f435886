"""From the customer's yes to the final account, in the real window, and what is left after a kill.

Stitching alone is accepted, more is found and agreed by telephone, the whole panel is repointed
after all, the work is done and paid. Then the process is killed, and every paper is read from the
file.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from estimator.contract.so_far import SoFar
from estimator.contract.statement import final_account
from estimator.contract.sums import running
from estimator.contract.variation import Standing, ValuedBy
from estimator.documents.formats import money
from estimator.money import Money
from estimator.office import contracts
from estimator.office.place import file_in
from estimator.store import issued, jobs
from estimator.store.database import open_file
from estimator.store.kept_papers import PaperKind
from estimator.takeoff.scope import PANEL
from tests.journeys.killed import killed, papers_kept
from tests.journeys.settling_by_hand import FOUND

LONGEST_S = 120.0
"""Script and program together take no longer, from the quotation to the final account. [s]"""
KINDS = {
    PaperKind.VARIATION: 2,
    PaperKind.VARIATION_CONFIRMATION: 1,
    PaperKind.COMPLETION: 1,
    PaperKind.INVOICE: 1,
    PaperKind.FINAL_ACCOUNT: 1,
}
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def left(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    """What the killed process left behind, and what it told."""
    folder = tmp_path_factory.mktemp("settling")
    return folder, killed("settling_by_hand", folder, longest_s=300)


@pytest.fixture(scope="module")
def so_far(left: tuple[Path, dict[str, Any]]) -> SoFar:
    folder, told = left
    with open_file(file_in(folder)) as database:
        assert issued.verify(database) == ()
        assert jobs.find(database, told["uid"]).stage is jobs.Stage.DONE
        return contracts.so_far(database, told["uid"])


@pytest.fixture(scope="module")
def papers(left: tuple[Path, dict[str, Any]]) -> dict[PaperKind, list[tuple[str, str]]]:
    """The number and the words of every paper that was kept, by kind."""
    folder, told = left
    return papers_kept(folder, told["uid"])


def test_it_takes_less_than_two_minutes_and_no_dialog(left: tuple[Path, dict[str, Any]]) -> None:
    _folder, told = left
    assert told["seconds"] < LONGEST_S
    assert told["windows"] == []
    print(f"{told['seconds']:.1f} s of scripted input")


def test_what_was_found_costs_what_was_promised(so_far: SoFar) -> None:
    first = so_far.variations[0].variation
    assert so_far.contract is not None
    assert first.net == Money(so_far.contract.further_brick.pence * len(FOUND))
    assert {line.basis for line in first.lines} == {ValuedBy.PROVISIONAL_QUANTITY}
    assert "thin bed" in first.title
    assert so_far.variations[0].confirmed_by


def test_the_whole_panel_costs_the_difference_to_the_penny(so_far: SoFar) -> None:
    """Both choices stand on the quotation; their difference is what is charged."""
    second = so_far.variations[1].variation
    contract = so_far.contract
    assert contract is not None
    offered = sum(line.amount.pence for line in contract.offered)
    assert second.scope.works == PANEL.works
    assert second.net == Money(offered) - contract.net
    assert [one.standing for one in so_far.variations] == [Standing.AGREED] * 2


def test_the_account_is_settled(so_far: SoFar) -> None:
    account = final_account(so_far)
    assert account.is_settled
    assert account.price.net == so_far.net
    assert account.paid == account.price.total


def test_every_paper_is_kept_and_they_agree(
    so_far: SoFar, papers: dict[PaperKind, list[tuple[str, str]]]
) -> None:
    assert {kind: len(found) for kind, found in papers.items()} == KINDS
    for varied, (number, words) in zip(so_far.variations, papers[PaperKind.VARIATION], strict=True):
        sums = running(so_far, varied.variation.key)
        assert number == varied.number
        assert money(sums.after.total) in words
        assert "not started until it is agreed" in words
    whole = money(final_account(so_far).price.total)
    for kind in (PaperKind.INVOICE, PaperKind.FINAL_ACCOUNT):
        ((_number, words),) = papers[kind]
        assert whole in words
    ((_number, words),) = papers[PaperKind.COMPLETION]
    assert "not with what moved the wall" in words
    for found in papers.values():
        for number, words in found:
            assert number in words
            assert "Ines Marlowe" in words
