"""A message with a paper on it, as a file that any mail program opens as a draft (RFC 5322).

Nothing is sent from here. ``X-Unsent`` asks a mail program to open the file for writing; it is a
custom some of them keep and no standard. Names come from people, so no line end in one may ever
become a header of its own, and nothing in one may be taken for an encoded word (RFC 2047), which
could hold a line end too: the library's newer way of writing headers takes such words for what they
say and makes a header of their second line (seen with Python 3.11), so its older way is used.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from email.generator import BytesGenerator
from email.header import Header
from email.mime.application import MIMEApplication
from email.mime.multipart import MIMEMultipart
from email.mime.text import MIMEText
from email.policy import compat32
from email.utils import format_datetime, quote
from io import BytesIO

from estimator.notices import UserMistake

MOST_NAME = 120
"""Letters of a name or a subject that are kept; a mail program shows fewer."""
ADDRESS = re.compile(
    r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(?:\.[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*"
    r"@[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?"
    r"(?:\.[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?)+"
)
"""A dot-atom at a domain, RFC 5322 section 3.4.1; quoted and bracketed forms are left out."""
LONGEST_ADDRESS = 254
LONGEST_FILE_NAME = 60
"""Letters; each may take twelve when written in ASCII, and a line ends before 998."""
SUFFIX = ".pdf"
UNSAFE_IN_FILE_NAMES = re.compile(r'[\\/:*?"<>|]+')


@dataclass(frozen=True, slots=True)
class Person:
    """A name and an address; either may be empty."""

    name: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class Attached:
    """The paper on the message."""

    name: str
    pdf: bytes


@dataclass(frozen=True, slots=True)
class Letter:
    """What the message says."""

    subject: str
    body: str


def draft(letter: Letter, attached: Attached, *, sender: Person, to: Person, at: datetime) -> bytes:
    """Return the draft as the bytes of an ``.eml`` file.

    Whoever has no address is left out, to be filled in by the person who sends it.

    Raises:
        UserMistake: for an address that no mail program could send to.

    >>> made = draft(
    ...     Letter("Estimate E-0042", "Here it is."),
    ...     Attached("E-0042.pdf", b"%PDF-1.7"),
    ...     sender=Person("Sample Masonry", "office@example.com"),
    ...     to=Person("A. Sample", "a.sample@example.com"),
    ...     at=datetime(2026, 11, 25, 9, 30),
    ... )
    >>> b'To: "A. Sample" <a.sample@example.com>' in made.splitlines()
    True
    """
    message = MIMEMultipart()
    headers: dict[str, Header] = {"Subject": _header("Subject", one_line(letter.subject))}
    if sender.address.strip():
        headers["From"] = _mailbox("From", sender)
    if to.address.strip():
        headers["To"] = _mailbox("To", to)
    for name, header in headers.items():
        message[name] = header.encode(linesep="\r\n")
    message["Date"] = format_datetime(at)
    message["X-Unsent"] = "1"
    message.attach(MIMEText(_storable(letter.body), "plain", "utf-8"))
    paper = MIMEApplication(attached.pdf, "pdf")
    named = ("utf-8", "", file_name(attached.name))
    paper.add_header("Content-Disposition", "attachment", filename=named)
    message.attach(paper)
    written = BytesIO()
    BytesGenerator(written, policy=compat32.clone(linesep="\r\n")).flatten(message)
    return written.getvalue()


def one_line(text: str) -> str:
    r"""Return a text on one line, without anything a header could be broken by.

    >>> one_line("Marlowe\r\nBcc: everybody@example.com")
    'Marlowe Bcc: everybody@example.com'
    """
    printable = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(printable.split()).replace("=?", "= ?")[:MOST_NAME].strip()


def file_name(text: str) -> str:
    """Return the name of a PDF that every disk takes, with no folder in it.

    >>> file_name("Estimate E-0042, ../Marlowe")
    'Estimate E-0042, -Marlowe.pdf'
    """
    plain = UNSAFE_IN_FILE_NAMES.sub("-", one_line(text).removesuffix(SUFFIX))
    plain = re.sub(r"\.{2,}", "", plain)[:LONGEST_FILE_NAME].strip(" .") or "paper"
    return plain + SUFFIX


def check_address(address: str) -> str:
    """Return an address without the spaces round it.

    Raises:
        UserMistake: when no mail program could send to it.

    >>> check_address(" office@example.com ")
    'office@example.com'
    """
    plain = address.strip()
    if len(plain) > LONGEST_ADDRESS or not ADDRESS.fullmatch(plain):
        raise UserMistake(
            f"mail cannot go to '{one_line(plain)[:60]}'",
            why="an address is a name, an @ and a domain, in plain letters",
            do="write it such as name@example.com",
            field="email",
        )
    return plain


def _mailbox(header: str, person: Person) -> Header:
    name, address = one_line(person.name), check_address(person.address)
    if name.isascii():
        return _header(header, f'"{quote(name)}" <{address}>' if name else address)
    made = Header(name, "utf-8", header_name=header)
    made.append(f"<{address}>", "us-ascii")
    return made


def _header(header: str, text: str) -> Header:
    return Header(text, "us-ascii" if text.isascii() else "utf-8", header_name=header)


def _storable(text: str) -> str:
    """Return a text for the body: its own line ends, and no other control."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(one if one == "\n" or one.isprintable() else " " for one in plain)
