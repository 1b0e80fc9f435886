"""The draft, read back with the standard library's own parser."""

from __future__ import annotations

from datetime import UTC, datetime
from email import policy
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.parser import BytesParser
from email.utils import parseaddr

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.exchange.email_draft import Attached, Letter, Person, draft, file_name, one_line
from estimator.notices import UserMistake

AT = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
PDF = b"%PDF-1.7\r\n\x00\xff\nFrom here on\r\n.\r\n%%EOF\n"
HEADERS = {
    "Subject", "From", "To", "Date", "X-Unsent", "MIME-Version", "Content-Type"
}  # fmt: skip
FIRM = Person("Tarn & Pike", "office@example.com")
HOSTILE = (
    "Marlowe\r\nBcc: everybody@example.com",
    "Marlowe\nBcc: everybody@example.com",
    "Marlowe\rBcc: everybody@example.com",
    "Marlowe\x0bBcc: everybody@example.com",
    "Marlowe\u2028Bcc: everybody@example.com",
    "Marlowe\x85Bcc: everybody@example.com",
    'Marlowe" <everybody@example.com>, "',
    "Marlowe, everybody@example.com",
    "=?utf-8?q?Marlowe=0d=0aBcc=3A_everybody=40example=2Ecom?=",
    "Márlowe\r\n\r\n<html>",
    "\ud800Marlowe",
    "Ñ" * 300,
    ("Łódź, " * 20) + '"<everybody@example.com>"',
    "",
)


def parsed(made: bytes) -> EmailMessage:
    """The draft as a mail program sees it."""
    message = BytesParser(policy=policy.default).parsebytes(made)
    assert isinstance(message, EmailMessage)
    return message


def made_for(name: str, address: str = "ines@example.com", **changes: str) -> bytes:
    """A draft for one customer."""
    return draft(
        Letter(changes.get("subject", "Estimate E-0042"), changes.get("body", "Here it is.")),
        Attached(changes.get("file", "Estimate E-0042.pdf"), PDF),
        sender=FIRM,
        to=Person(name, address),
        at=AT,
    )


def test_a_draft_reads_back_as_it_was_meant() -> None:
    message = parsed(made_for("Ines Marlowe", body="Dear Ines\n\n£620 to £980.\n"))
    assert message["From"] == "Tarn & Pike <office@example.com>"
    assert message["To"] == "Ines Marlowe <ines@example.com>"
    assert message["Subject"] == "Estimate E-0042"
    assert message["Date"].datetime == AT
    assert message["X-Unsent"] == "1"
    body = message.get_body()
    assert body is not None
    assert body.get_content() == "Dear Ines\n\n£620 to £980.\n"
    assert set(message.keys()) == HEADERS


def test_the_paper_on_it_is_the_very_bytes() -> None:
    (paper,) = parsed(made_for("Ines Marlowe")).iter_attachments()
    assert paper.get_content() == PDF
    assert paper.get_content_type() == "application/pdf"
    assert paper.get_filename() == "Estimate E-0042.pdf"
    assert paper.get_content_disposition() == "attachment"


def test_a_file_name_outside_ascii_goes_the_standard_way() -> None:
    made = made_for("Zoë", file="Estimate E-0042 Zoë Łuk.pdf")
    assert b"filename*=utf-8''Estimate%20E-0042%20Zo%C3%AB%20%C5%81uk.pdf" in made
    (paper,) = parsed(made).iter_attachments()
    assert paper.get_filename() == "Estimate E-0042 Zoë Łuk.pdf"


@pytest.mark.parametrize("name", HOSTILE)
def test_no_name_becomes_a_header_or_another_address(name: str) -> None:
    message = parsed(made_for(name, subject=name, body=name, file=f"{name}.pdf"))
    assert set(message.keys()) == HEADERS
    assert [one.addr_spec for one in message["To"].addresses] == ["ines@example.com"]
    assert [one.addr_spec for one in message["From"].addresses] == ["office@example.com"]
    (paper,) = message.iter_attachments()
    assert paper.get_content() == PDF
    kept = paper.get_filename()
    assert kept is not None
    assert not set(kept) & set('\\/\r\n:*?"<>|')


@given(st.text(st.characters(), max_size=300), st.text(st.characters(), max_size=300))
def test_nobody_else_is_ever_written_to(name: str, subject: str) -> None:
    message = parsed(made_for(name, subject=subject, body=subject, file=subject))
    assert set(message.keys()) == HEADERS
    assert [one.addr_spec for one in message["To"].addresses] == ["ines@example.com"]
    (paper,) = message.iter_attachments()
    assert paper.get_content() == PDF


@pytest.mark.parametrize(
    "name",
    ["Ines Marlowe", "O'Neil, Zoë", 'Ann "Nan" Lee', "Łukasz Źdźbło" * 4, "李小龙", "Tarn & Pike"],
)
def test_names_come_through_whole(name: str) -> None:
    # The newer parser leaves a space between two encoded words of a name, which RFC 2047 says is
    # none; the older one does as the standard says.
    told = BytesParser(policy=policy.compat32).parsebytes(made_for(name))["To"]
    shown, address = parseaddr(told)
    assert (str(make_header(decode_header(shown))), address) == (one_line(name), "ines@example.com")


def test_lines_are_as_long_as_the_standard_lets_them_be() -> None:
    made = made_for("Ñ" * 300, subject="Ü" * 300, body="long " * 500, file="ß" * 100 + ".pdf")
    assert all(len(line) <= 998 for line in made.split(b"\r\n"))
    assert b"\n" not in made.replace(b"\r\n", b"")


@pytest.mark.parametrize(
    "address",
    [
        "nobody",
        "two@at@example.com",
        "a@b",
        "ines@example.com\r\nBcc: x@example.com",
        "ines@example.com, x@example.com",
        "<ines@example.com>",
        ".ines@example.com",
        "ines@-example.com",
        "zoë@example.com",
        "a" * 250 + "@example.com",
    ],
)
def test_an_address_nobody_could_be_reached_at_is_refused(address: str) -> None:
    with pytest.raises(UserMistake) as refused:
        made_for("Ines", address)
    assert refused.value.field == "email"
    assert "\n" not in str(refused.value)


def test_who_has_no_address_is_left_to_be_filled_in() -> None:
    message = parsed(made_for("Ines Marlowe", " "))
    assert "To" not in message
    assert message["From"]


@given(st.text(st.characters(), max_size=200))
def test_file_names_hold_no_folder(name: str) -> None:
    kept = file_name(name)
    assert kept
    assert kept not in {".", ".."}
    assert not set(kept) & set('\\/:*?"<>|\r\n\0')
