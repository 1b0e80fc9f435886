"""What is found, valued beside the wall; written, sent, answered, confirmed."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.contract.contract import Manner
from estimator.contract.position import position
from estimator.contract.sums import price_of, running
from estimator.contract.variation import Standing, ValuedBy
from estimator.desktop import kept as kept_there
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.agreeing import HOURS, STANDING, WRITING
from estimator.desktop.columns import Columns
from estimator.desktop.in_sight import InSight
from estimator.money import Money, total
from estimator.store.database import Database
from estimator.survey.survey import Photo, Treatment
from estimator.takeoff.scope import PANEL
from tests.desktop.agreed.conftest import WAIT, NoDrafts, mark_found, shown
from tests.desktop.fakes import Ticket, WorkersAtOnce, answered, session_on
from tests.desktop.papers.drawn import taken


def write(columns: Columns, qtbot: QtBot) -> None:
    """Begin the variation the wall asks for, and wait until its draft is kept."""
    columns.money.foot.button.click()
    assert columns.agreeing.job.at == WRITING
    kept(columns, qtbot)


def kept(columns: Columns, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not columns.agreeing.writing._rest.isActive(), timeout=WAIT)
    answered(columns._session)


def send(columns: Columns, qtbot: QtBot) -> None:
    columns.agreeing.writing.send.click()
    qtbot.waitUntil(lambda: columns.agreeing.job.at == STANDING, timeout=WAIT)
    answered(columns._session)


def press(columns: Columns, qtbot: QtBot, button: str, standing: Standing) -> None:
    """Press one of the answers, and wait until the file has it."""
    getattr(columns.agreeing.standing, button).click()
    so_far = columns.agreeing.following
    qtbot.waitUntil(lambda: so_far.so_far.variations[-1].standing is standing, timeout=WAIT)
    answered(columns._session)


def test_what_is_marked_is_valued_beside_the_wall(agreed: Columns) -> None:
    agreeing = agreed.agreeing
    assert agreeing.since.price.text() == "No change"
    assert not agreed.money.foot.button.isEnabled()
    mark_found(agreed)
    so_far, valuing = agreeing.following.so_far, agreeing.valuing
    contract = so_far.contract
    assert contract is not None and valuing.valuation is not None
    net = total(line.amount for line in valuing.valuation.lines)
    after, before = price_of(contract, contract.net + net), price_of(contract, contract.net)
    assert agreeing.since.price.text() == wording.signed(after.total - before.total)
    assert agreeing.since.what.text().startswith("4 more cracked bricks")
    assert agreed.money.foot.button.isEnabled()
    assert agreed.money.foot.button.text() == "Write the variation"


def test_what_was_agreed_and_the_change_come_to_the_wall_as_it_is(agreed: Columns) -> None:
    mark_found(agreed, bricks=0)
    assert "changes nothing of the price" in agreed.agreeing.since.what.text()
    agreed.agreeing.since.choice_lines[0].click()
    valuing = agreed.agreeing.valuing
    assert valuing.valuation is not None and valuing.net
    covered = total(one.amount for one in position(valuing.so_far))
    assert covered + valuing.net == total(line.amount for line in valuing.valuation.offer.lines)


def test_a_line_lights_its_marks_and_a_mark_its_line(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    rows = agreed.agreeing.since.rows
    row = next(one for one in rows.rows[: rows.shown] if "front/brick/8/6" in one.row.marks)
    row.setFocus()
    with qtbot.waitSignal(agreed.money.pointed, timeout=WAIT) as told:
        qtbot.keyClick(row, Qt.Key.Key_Space)
    assert told.args and "front/brick/8/6" in told.args[0]
    assert "front/brick/8/6" in agreed.wall.board.lit
    qtbot.keyClick(row, Qt.Key.Key_Escape)
    agreed.wall.pointed.emit(frozenset({"front/brick/8/6"}))
    assert row.is_lit
    agreed.wall.pointed.emit(frozenset())
    assert not row.is_lit


def test_the_other_choice_is_offered_at_its_difference(agreed: Columns) -> None:
    agreeing = agreed.agreeing
    mark_found(agreed)
    valuing = agreeing.valuing
    panel, _patched = valuing.choices
    assert panel.scope.key == PANEL.key
    said = agreeing.since.choice_lines[0].accessibleName()
    assert said == f"Repoint the whole panel after all: {wording.signed(panel.amount)}"
    before = valuing.total
    agreeing.since.choice_lines[0].click()
    valuing._look_further()
    assert valuing.scope is not None and valuing.scope.key == PANEL.key
    assert valuing.total == before + panel.amount
    back, _patched = valuing.choices
    assert back.is_agreed and back.amount == Money(-panel.amount.pence)
    assert agreed.money.cards.at == 1
    agreeing.since.choice_lines[0].click()
    assert valuing.total == before


def test_a_draft_is_kept_while_it_is_typed(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    writing = agreed.agreeing.writing
    writing.form.reason.editor.setFocus()
    qtbot.keyClicks(writing.form.reason.editor, "Split behind the gutter")
    kept(agreed, qtbot)
    (draft,) = agreed.agreeing.following.so_far.variations
    assert draft.standing is Standing.DRAFTED
    assert draft.variation.reason == "Split behind the gutter"
    assert draft.variation.asked_by == "found on site"
    assert draft.variation.revision > 0
    # What is in a draft is still what the wall asks for now.
    assert agreed.agreeing.since.price.text() == wording.signed(agreed.agreeing.valuing.total)


def test_it_is_there_after_the_program_was_ended(
    agreed: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    mark_found(agreed)
    agreed.agreeing.since.choice_lines[0].click()
    write(agreed, qtbot)
    form = agreed.agreeing.writing.form
    form.asked_by.show_text("Ines Marlowe")
    form.asked_by.typed.emit("Ines Marlowe")
    form.ticks.lines[0].ticked.box.click()
    kept(agreed, qtbot)
    before = agreed.agreeing.following.so_far.variations[0].variation
    job = agreed._session.job
    agreed._session.save()
    answered(agreed._session)
    agreed._session.filing.close()
    again = session_on(tmp_path, workers=NoDrafts())
    columns = shown(again, qtbot)
    again.show_job(job)
    qtbot.waitUntil(lambda: bool(columns.agreeing.following.so_far.variations), timeout=WAIT)
    columns.agreeing.valuing.look()
    columns.agreeing.open_variation("a")
    assert columns.agreeing.valuing.scope == before.scope
    assert columns.agreeing.writing.form.asked_by.text == "Ines Marlowe"
    assert not columns.agreeing.writing.form.ticks.lines[0].ticked.is_on
    drawn = columns.agreeing.writing.drawn_up()
    assert drawn is not None and drawn.lines == before.lines
    answered(again)
    again.filing.close()


def test_a_line_is_left_out_and_a_sum_written_in(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    writing = agreed.agreeing.writing
    first = writing.form.ticks.lines[0]
    first.ticked.box.click()
    extra = writing.form.extra
    extra.open_sum.click()
    extra.what.show_text("Make good the flower bed")
    extra.amount.show_text("lots")
    extra.add.click()
    assert extra.amount.problem.text()
    extra.amount.show_text("-35.50")
    extra.add.click()
    drawn = writing.drawn_up()
    assert drawn is not None
    assert first.valued not in drawn.lines
    assert drawn.lines[-1].basis is ValuedBy.PROVISIONAL_SUM
    assert str(drawn.lines[-1].amount) == "-35.50"
    kept(agreed, qtbot)
    assert agreed.agreeing.following.so_far.variations[0].variation.lines == drawn.lines


def test_hours_are_charged_as_the_definition_of_prime_cost_has_it(
    agreed: Columns, qtbot: QtBot
) -> None:
    """Definition of Prime Cost of Daywork, 3rd edition, option A; the dossier's value 29."""
    mark_found(agreed)
    write(agreed, qtbot)
    agreed.agreeing.writing.form.extra.open_hours.click()
    page = agreed.agreeing.hours
    assert agreed.agreeing.job.at == HOURS
    page.take.click()
    assert page.what.problem.text() and page.people[0].who.problem.text()
    for field, text in (
        (page.what, "Prop the lintel"),
        (page.people[0].who, "A. Mason"),
        (page.people[0].hours, "6.5"),
        (page.people[0].rate, "18"),
        (page.materials, "84"),
        (page.plant, "£40"),
    ):
        field.show_text(text)
        field.typed.emit(text)
    assert page.sum.text() == "The sheet comes to £388.30 before VAT"
    page.take.click()
    qtbot.waitUntil(lambda: agreed.agreeing.job.at == WRITING, timeout=WAIT)
    drawn = agreed.agreeing.writing.drawn_up()
    assert drawn is not None
    assert drawn.lines[-1].basis is ValuedBy.DAYWORK
    assert str(drawn.lines[-1].amount) == "388.30"
    assert agreed.agreeing.following.so_far.daywork[0].hours[0].hours == Decimal("6.5")


def test_sent_agreed_by_telephone_and_confirmed(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    change = agreed.agreeing.valuing.total
    send(agreed, qtbot)
    page, following = agreed.agreeing.standing, agreed.agreeing.following
    (one,) = following.so_far.variations
    assert (one.number, one.standing) == ("V-0001", Standing.SENT)
    assert agreed.agreeing.job.has_paper
    assert agreed.agreeing.since.price.text() == "No change"
    assert "V-0001, which waits" in agreed.agreeing.since.what.text()
    before = agreed.agreeing.agreement.headline.text()
    press(agreed, qtbot, "main", Standing.AGREED)
    (one,) = following.so_far.variations
    assert one.how is Manner.TELEPHONE and one.who == "Ines Marlowe"
    assert page.main.text() == "Write the confirmation"
    assert agreed.agreeing.agreement.headline.text() != before
    assert one.wants_confirming
    page.main.click()
    qtbot.waitUntil(lambda: bool(following.so_far.variations[0].confirmed_by), timeout=WAIT)
    answered(agreed._session)
    assert following.so_far.variations[0].confirmed_by == "S-0001"
    assert "S-0001" in page.said.text()
    run = running(following.so_far, "a")
    assert run.after.total - run.before.total == change
    (line,) = agreed.agreeing.variations.lines_
    assert line.accessibleName().startswith("V-0001, agreed: 4 more cracked bricks")
    assert f"→ {wording.formats.money(run.after.total)}" in line.accessibleName()


@pytest.mark.parametrize(
    ("button", "standing"),
    [("decline", Standing.DECLINED), ("withdraw", Standing.WITHDRAWN)],
)
def test_what_is_not_agreed_counts_for_nothing_and_is_offered_again(
    agreed: Columns, qtbot: QtBot, button: str, standing: Standing
) -> None:
    mark_found(agreed)
    before = agreed.agreeing.agreement.headline.text()
    change = agreed.agreeing.valuing.total
    write(agreed, qtbot)
    send(agreed, qtbot)
    press(agreed, qtbot, button, standing)
    assert agreed.agreeing.agreement.headline.text() == before
    assert agreed.agreeing.valuing.total == change
    (line,) = agreed.agreeing.variations.lines_
    assert line.accessibleName().endswith("not counted")


def test_who_declined_may_come_round(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    press(agreed, qtbot, "decline", Standing.DECLINED)
    assert agreed.agreeing.standing.main.text() == "They agree after all"
    press(agreed, qtbot, "main", Standing.AGREED)


def test_nobody_agrees_without_a_name(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    page = agreed.agreeing.standing
    page.form.who.show_text("")
    page.main.click()
    assert page.form.who.problem.text() == "Say who it was."
    assert agreed.agreeing.following.so_far.variations[0].standing is Standing.SENT


def test_a_draft_is_dropped(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    agreed.agreeing.writing.drop.click()
    qtbot.waitUntil(lambda: agreed.agreeing.job.at == "", timeout=WAIT)
    answered(agreed._session)
    (one,) = agreed.agreeing.following.so_far.variations
    assert one.standing is Standing.WITHDRAWN
    assert agreed.agreeing.valuing.is_anything


def test_bricks_first_then_the_panel_after_all(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    for _turn in range(2):
        write(agreed, qtbot)
        send(agreed, qtbot)
        press(agreed, qtbot, "main", Standing.AGREED)
        agreed.agreeing.job.open()
        agreed.agreeing.valuing._look_further()
        if agreed.agreeing.valuing.choices and _turn == 0:
            agreed.agreeing.since.choice_lines[0].click()
    so_far = agreed.agreeing.following.so_far
    assert [one.number for one in so_far.agreed] == ["V-0001", "V-0002"]
    assert so_far.contract is not None
    now = price_of(so_far.contract, so_far.net)
    assert agreed.agreeing.agreement.headline.text() == (
        f"{wording.formats.money(now.total)} with VAT"
    )
    assert not agreed.agreeing.valuing.is_anything
    assert agreed.agreeing.since.title.text() == "Since V-0002"
    # What was agreed is a way of its own now: the panel is no longer offered.
    assert all(one.scope.key != PANEL.key for one in agreed.agreeing.valuing.choices)


def test_the_keys_lead_from_the_wall_to_a_sent_variation(agreed: Columns, qtbot: QtBot) -> None:
    in_sight = InSight(agreed)
    mark_found(agreed)
    in_sight.next_thing()
    assert agreed.agreeing.job.at == WRITING
    assert agreed.agreeing.writing.form.reason.editor.hasFocus()
    kept(agreed, qtbot)
    in_sight.next_thing()
    qtbot.waitUntil(lambda: agreed.agreeing.job.at == STANDING, timeout=WAIT)
    answered(agreed._session)
    in_sight.next_thing()
    qtbot.waitUntil(lambda: bool(agreed.agreeing.following.so_far.agreed), timeout=WAIT)
    answered(agreed._session)
    qtbot.keyClick(agreed.agreeing.standing.main, Qt.Key.Key_Escape)
    assert agreed.agreeing.job.at == "" and agreed.is_at_job
    assert not agreed.has_paper


def test_the_paper_lies_in_the_middle_while_it_is_written(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(agreed._session, "workers", WorkersAtOnce())
    mark_found(agreed)
    write(agreed, qtbot)
    qtbot.waitUntil(lambda: agreed.agreeing.job.has_paper, timeout=WAIT)
    qtbot.waitUntil(lambda: bool(agreed.preview.area.sheets), timeout=WAIT)
    qtbot.waitUntil(lambda: agreed.preview.caption.text() == "Not sent yet", timeout=WAIT)
    page = agreed.preview.area.sheets[0].page
    assert page is not None and "4 more cracked bricks" in page.text
    agreed.agreeing.job.open()
    assert not agreed.has_paper


def test_a_large_wall_is_valued_by_the_workers_to_the_same_penny(
    agreed: Columns, monkeypatch: pytest.MonkeyPatch
) -> None:
    mark_found(agreed)
    valuing = agreed.agreeing.valuing
    here = (valuing.valuation, valuing.choices)
    monkeypatch.setattr("estimator.desktop.agreed.valuing.SLOW_MS", -1.0)
    valuing._of = ()
    valuing.look()
    valuing._of = ()
    valuing.look()
    assert valuing.is_settling
    assert agreed.agreeing.since.price.property("tone") == "quiet"
    # First the change itself comes, then the other choices.
    for _answer in range(4):
        QApplication.processEvents()
    assert not valuing.is_settling
    assert valuing.valuation is not here[0]
    assert (valuing.valuation, valuing.choices) == here


def test_a_choice_that_waits_for_an_answer_is_not_taken_back_by_the_next(
    agreed: Columns, qtbot: QtBot
) -> None:
    mark_found(agreed)
    agreed.agreeing.since.choice_lines[0].click()
    write(agreed, qtbot)
    send(agreed, qtbot)
    agreed.agreeing.valuing.look()
    assert agreed.agreeing.following.so_far.variations[0].standing is Standing.SENT
    assert not agreed.agreeing.valuing.is_anything
    assert agreed.agreeing.since.price.text() == "No change"


def test_what_was_valued_before_an_answer_is_not_shown_after_it(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A slow wall is valued elsewhere; meanwhile nothing stands there that is true no more."""
    mark_found(agreed)
    valuing, since = agreed.agreeing.valuing, agreed.agreeing.since
    assert since.price.text().startswith("+")
    write(agreed, qtbot)
    send(agreed, qtbot)
    # From here on the worker never answers.
    monkeypatch.setattr(valuing, "_is_slow", True)
    monkeypatch.setattr(valuing.session.workers, "run", lambda *_given, **_named: Ticket())
    press(agreed, qtbot, "main", Standing.AGREED)
    assert valuing.is_settling
    assert since.price.text() == "Working it out…"
    assert since.what.text() == ""


def test_photographs_that_are_ticked_are_on_the_paper_while_it_is_written(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(agreed._session, "workers", WorkersAtOnce())
    session, picture = agreed._session, taken()[0]
    job, survey = session.job, session.work.survey

    def keep(database: Database) -> None:
        kept_there.keep_photo(database, job, picture)

    session.filing.ask(keep)
    photo = Photo("p1", "front", picture.sha256, picture.width_px, picture.height_px, (), "Split")
    session._put(replace(session.work, survey=replace(survey, photos=(photo,))))
    mark_found(agreed)
    write(agreed, qtbot)
    tick = agreed.agreeing.writing.form.photos[picture.sha256]
    assert tick.words.text() == "Split"
    papers: list[bytes] = []
    agreed.agreeing.writing.paper.done.connect(papers.append)
    tick.box.click()
    qtbot.waitUntil(lambda: bool(papers), timeout=WAIT)
    kept(agreed, qtbot)
    assert agreed.agreeing.following.so_far.variations[0].variation.photos == (picture.sha256,)
    assert sum(len(page.images) for page in PdfReader(BytesIO(papers[-1])).pages) == 1


def test_patching_the_bricks_is_offered_at_its_difference(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    valuing, since = agreed.agreeing.valuing, agreed.agreeing.since
    (choice,) = (one for one in valuing.choices if one.repair is not None)
    before = valuing.total
    (line,) = (one for one in since.choice_lines if "Patch" in one.accessibleName())
    line.click()
    qtbot.waitUntil(lambda: valuing.total == before + choice.amount, timeout=WAIT)
    side = agreed._session.work.survey.elevations[0]
    assert [one.treatment for one in side.bricks[-4:]] == [Treatment.PATCH] * 4
    agreed._session.history.undo()
    qtbot.waitUntil(lambda: valuing.total == before, timeout=WAIT)
