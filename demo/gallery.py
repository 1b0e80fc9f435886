"""Take three invented jobs from the quotation to the last penny, and write every paper on the way.

    python demo/gallery.py [FOLDER]

The folder is ``out/gallery`` beside this one unless another is named. Each job is accepted, more is
found when the joints are opened, the customer changes their mind, the work is done and settled.
Every name in here is invented.
"""

from __future__ import annotations

import argparse
import datetime
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from make_papers import FIRM, HERE

from estimator.contract import drafting, invoicing, statement, valuation
from estimator.contract.account import InvoiceFor, Paying, Payment
from estimator.contract.agreed_work import agreed_work
from estimator.contract.contract import Cancelling, Made, Manner, Retention
from estimator.contract.daywork import DayworkSheet, Hours, Spent
from estimator.contract.deeds import Booked, BuiltThere, DayworkKept, HeldThere, Planned
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.contract.works import Booking, Built, Completion, Feature, Held, Plan
from estimator.documents import buying_paper, programme_paper
from estimator.documents.quotation import render
from estimator.exchange import calendar_out, ledger_csv, ubl_invoice, ubl_quotation
from estimator.money import Money
from estimator.office import contracts
from estimator.office.noting import Gone
from estimator.office.practice import practice
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation
from estimator.store import happenings, issued, jobs, kept_papers, price_books, settings, suppliers
from estimator.store.database import Database, open_file
from estimator.store.issued import Origin
from estimator.store.kept_papers import PaperKind
from estimator.survey import survey_file
from estimator.survey.survey import CrackedBrick, Survey, ThinBed, Treatment
from estimator.takeoff.lines import Item
from estimator.takeoff.scope import Scope
from estimator.works.reissued import reissue

QUOTED, ACCEPTED = datetime.date(2026, 11, 25), datetime.date(2026, 11, 26)
START = datetime.date(2026, 12, 14)
DONE = datetime.date(2026, 12, 18)
PAID = datetime.date(2027, 1, 4)
MORE = {
    # What is found on each wall once it is opened: bricks by course and place, and a thin bed.
    "quoin_cavity": (((10, 15), (12, 15), (14, 15), (16, 15)), ThinBed(12, 2400, 3600, 6)),
    "terrace": (((40, 6), (41, 6), (42, 7), (43, 7)), ThinBed(45, 900, 3200, 6)),
    "window_lime": (((5, 8), (6, 8), (7, 9), (8, 9)), ThinBed(8, 1000, 2600, 6)),
}

BOUGHT_FROM = {
    # Who sells what to the invented firm; the merchant has the rest.
    "facing_brick": "Eastmere Reclamation Yard",
    **dict.fromkeys(("bar_1000", "bar_1500", "bar_3000", "grout"), "Fixings by Post"),
}


def main() -> None:
    """Read the folder from the command line and fill it."""
    reader = argparse.ArgumentParser(description="Write every paper of three invented jobs.")
    usual = HERE.parent / "out" / "gallery"
    reader.add_argument("folder", nargs="?", type=Path, default=usual)
    folder: Path = reader.parse_args().folder
    for path in make_gallery(folder):
        print(path)


def make_gallery(folder: Path) -> Iterator[Path]:
    """Write every paper of three jobs, each into a folder of its own."""
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / "work.perpend"
    file.unlink(missing_ok=True)
    with open_file(file) as database:
        price_books.installed(database)
        settings.keep(database, "firm", FIRM.read_text(encoding="utf-8"))
        for material, name in BOUGHT_FROM.items():
            suppliers.keep(database, material, material, name)
        for name in MORE:
            yield from Story.begun(database, name, folder / name).told()


@dataclass(slots=True)
class Story:
    """One job, and where its papers go."""

    database: Database
    job: str
    folder: Path
    practice: Practice
    survey: Survey
    quotation: Quotation
    found: Survey
    count: int = 0

    @classmethod
    def begun(cls, database: Database, name: str, folder: Path) -> Story:
        """Take an invented survey in, and issue its quotation."""
        folder.mkdir(parents=True, exist_ok=True)
        survey = survey_file.read((HERE / f"{name}.json").read_text(encoding="utf-8"))
        job = jobs.add(database, jobs.Job(survey.title)).uid
        revision = jobs.accept_survey(database, job, survey, why="measured")
        works = practice(database)
        offered = offering.prepare(survey, works, date=QUOTED.isoformat())
        book = price_books.installed(database).uid
        paper = issued.issue(database, offered, origin=Origin(job, revision, book), make_pdf=render)
        offered = replace(offered, number=paper.number)
        bricks, bed = MORE[name]
        return cls(database, job, folder, works, survey, offered, as_found(survey, bricks, bed))

    @property
    def so_far(self) -> SoFar:
        """What the job has come to."""
        return contracts.so_far(self.database, self.job)

    def told(self) -> Iterator[Path]:
        """Go through the whole job, and yield each paper as it is written."""
        number = self.quotation.number
        yield self.write(f"{number}-quotation.pdf", issued.pdf_of(self.database, number))
        for option, one in enumerate(self.quotation.options):
            name = f"{number}-{one.offer.scope.key}.ubl.xml"
            yield self.write(name, ubl_quotation.quotation(self.quotation, option))
        yield from self.accepted()
        yield from self.planned()
        yield from self.more_found()
        yield from self.changed_their_mind()
        yield from self.declined()
        yield from self.done()
        yield from self.settled()

    def accepted(self) -> Iterator[Path]:
        """The customer says yes on the telephone; it is confirmed, and the deposit asked for."""
        is_trade = self.survey.customer.kind.value == "trade"
        contracts.accept(
            self.database,
            self.job,
            self.quotation.number,
            0,
            accepted_by=self.survey.customer.name,
            how=Manner.TELEPHONE,
            accepted_on=ACCEPTED,
            retention=Retention(Decimal(5), 6) if is_trade else None,
            cancelling=Cancelling(Made.AT_THEIR_HOME, notice_given=ACCEPTED),
            now=clock(ACCEPTED),
        )
        yield self.paper(contracts.confirm(self.database, self.job, **self.issuing(ACCEPTED)))
        yield from self.invoiced(InvoiceFor.DEPOSIT, ACCEPTED)

    def planned(self) -> Iterator[Path]:
        """The works are planned: programme, calendar, site sheet, buying list."""
        plan = Plan(START, ("Ada Pike", "Ben Tarn"))
        contracts.do(self.database, self.job, Planned(plan), now=clock(ACCEPTED))
        yield from self.for_the_works(ACCEPTED)

    def for_the_works(self, day: datetime.date) -> Iterator[Path]:
        """Write what the gang goes by, as the work is agreed that day."""
        about = {"trader": self.practice.trader, "number": "", "date": day}
        made = programme_paper.render(self.so_far, **about)
        yield self.write(f"programme-{day}.pdf", made)
        sold = suppliers.bought_from(self.database)
        made = buying_paper.render(self.so_far, **about, suppliers=sold)
        yield self.write(f"buying-list-{day}.pdf", made)
        told = calendar_out.About(
            job=self.job,
            title=self.survey.title,
            site=", ".join(self.survey.customer.site or self.survey.customer.address),
            firm=self.practice.trader.name,
            stamp=clock(day)(),
        )
        again = reissue(happenings.of_job(self.database, self.job))
        yield self.write(f"programme-{day}.ics", calendar_out.to_ics(again, told))
        kind = PaperKind.SITE_SHEET
        yield self.paper(contracts.sheet(self.database, self.job, kind, **self.issuing(day)))

    def more_found(self) -> Iterator[Path]:
        """The joints are opened: more bricks, a thin bed; agreed by telephone, confirmed."""
        yield from self.varied(
            self.scope,
            asked_by="found on site",
            reason="It shows only now that the joints are open.",
        )
        self.answered(Standing.AGREED, Manner.TELEPHONE)
        key = self.so_far.variations[-1].variation.key
        gone = contracts.confirm(self.database, self.job, key, **self.issuing(START))
        yield self.paper(gone)

    def changed_their_mind(self) -> Iterator[Path]:
        """The customer wants the whole panel repointed after all."""
        yield from self.varied(
            self.quotation.options[1].offer.scope,
            asked_by="the customer",
            reason="The repair is not to show.",
        )
        self.answered(Standing.AGREED, Manner.SIGNED)
        yield from self.for_the_works(START)

    def declined(self) -> Iterator[Path]:
        """Work by the hour is offered and declined: listed from now on, and counted nowhere."""
        sheet = DayworkSheet(
            key="prop",
            variation="",
            what="Ease and wedge the old frame",
            hours=(Hours(START, "Ada Pike", "bricklayer", Decimal("1.5"), Money.of("24.38")),),
            materials=(Spent("Oak wedges", "6", Money.of("8.40")),),
            plant=(),
            labour_percent=Decimal(40),
            materials_percent=Decimal(15),
            plant_percent=Decimal(15),
            signed_by=self.survey.customer.name,
            signed_on=START,
        )
        contracts.do(self.database, self.job, DayworkKept(sheet), now=clock(START))
        kind = PaperKind.DAYWORK_SHEET
        gone = contracts.sheet(self.database, self.job, kind, key=sheet.key, **self.issuing(START))
        yield self.paper(gone)
        line = drafting.daywork_line(sheet)
        yield from self.varied(
            self.scope, asked_by="the customer", reason="Asked for on the day.", added=(line,)
        )
        self.answered(Standing.DECLINED, Manner.EMAIL)

    def done(self) -> Iterator[Path]:
        """The work is done: hours, what was built where, completion."""
        contracts.do_all(self.database, self.job, tuple(self.deeds()), now=clock(DONE))
        yield from self.invoiced(InvoiceFor.STAGE, DONE)
        told = Completion(DONE, "Ada Pike", ("The lintel over the door is rusting: have it seen.",))
        trader = self.practice.trader
        yield self.paper(
            contracts.complete(self.database, self.job, told, trader=trader, now=clock(DONE))
        )
        kind = PaperKind.AS_BUILT
        yield self.paper(contracts.sheet(self.database, self.job, kind, **self.issuing(DONE)))

    def deeds(self) -> Iterator[Booked | BuiltThere | HeldThere]:
        """Yield what was noted while the work went on."""
        work = agreed_work(self.so_far)
        for place, bar in enumerate(work.measure.bars):
            thin = "The bed is thinner than reckoned with; the arris was eased." if bar.thin else ""
            built = Built(
                bar.id, START, "bar set", f"G-26-{place % 2 + 17}", bar.slot_depth_mm, thin
            )
            yield BuiltThere(built)
            for feature in (Feature.DEPTH, Feature.DRY_FIT, Feature.DUST_OUT, Feature.DAMPED):
                yield HeldThere(Held(feature, bar.id, START, "Ada Pike"))
        lines = {line.item: line for line in work.measure.lines}
        for item in (Item.CUT_SLOT, Item.SET_BAR):
            if item in lines:
                done = lines[item].quantity.amount
                hours = (done * Decimal("0.2")).quantize(Decimal("0.1"))
                yield Booked(Booking(START, item, hours, done, "Ada Pike"))

    def settled(self) -> Iterator[Path]:
        """The rest is invoiced; a slip is credited and invoiced again; all is paid."""
        yield from self.invoiced(InvoiceFor.FINAL, DONE)
        last = self.so_far.invoices[-1].number
        note = invoicing.credit_of(self.so_far, last, date=DONE, why="The site was missing on it.")
        trader = self.practice.trader
        yield self.paper(
            contracts.credit(self.database, self.job, note, trader=trader, now=clock(DONE))
        )
        number = self.so_far.credits[-1].number
        yield self.write(f"{number}.ubl.xml", ubl_invoice.of_job(self.so_far, number, trader))
        yield from self.invoiced(InvoiceFor.FINAL, DONE)
        kind = PaperKind.STATEMENT
        yield self.paper(contracts.sheet(self.database, self.job, kind, **self.issuing(DONE)))
        for one in statement.statement(self.so_far, until=PAID).open:
            paid = Payment(PAID, one.amount, Paying.TRANSFER, one.number)
            contracts.pay(self.database, self.job, paid, now=clock(PAID))
        kind = PaperKind.FINAL_ACCOUNT
        yield self.paper(contracts.sheet(self.database, self.job, kind, **self.issuing(PAID)))
        account = ledger_csv.JobAccount(self.survey.title, self.survey.customer.name, self.so_far)
        yield self.write("ledger.csv", ledger_csv.to_csv([account]))

    @property
    def scope(self) -> Scope:
        """The work as it is agreed."""
        return agreed_work(self.so_far).scope

    def varied(
        self, scope: Scope, *, asked_by: str, reason: str, added: tuple[object, ...] = ()
    ) -> Iterator[Path]:
        """Draw a variation up, and send it."""
        so_far = self.so_far
        revision = jobs.accept_survey(self.database, self.job, self.found, why="as found")
        valued = valuation.value(so_far, self.found, scope)
        made = drafting.drawn_up(
            so_far,
            valued,
            date=START,
            asked_by=asked_by,
            reason=reason,
            revision=revision,
            added=added,
        )
        contracts.draft(self.database, self.job, made, now=clock(START))
        gone = contracts.send_variation(
            self.database, self.job, made.key, how=Manner.EMAIL, **self.issuing(START)
        )
        yield self.paper(gone)

    def answered(self, answer: Standing, how: Manner) -> None:
        """Note what became of the newest variation."""
        key = self.so_far.variations[-1].variation.key
        who = self.survey.customer.name
        contracts.answer(self.database, self.job, key, answer, who=who, how=how, now=clock(START))

    def invoiced(self, asks_for: InvoiceFor, day: datetime.date) -> Iterator[Path]:
        """Write the next invoice, as paper and as UBL; a deposit is paid at once."""
        made = invoicing.next_invoice(self.so_far, asks_for, date=day)
        trader = self.practice.trader
        gone = contracts.invoice(self.database, self.job, made, trader=trader, now=clock(day))
        yield self.paper(gone)
        bill = gone.so_far.invoices[-1]
        xml = ubl_invoice.of_job(gone.so_far, bill.number, trader)
        yield self.write(f"{bill.number}.ubl.xml", xml)
        if asks_for is InvoiceFor.DEPOSIT:
            paid = Payment(day, bill.payable, Paying.TRANSFER, bill.number)
            contracts.pay(self.database, self.job, paid, now=clock(day))

    def issuing(self, day: datetime.date) -> dict[str, object]:
        """Return what every paper is issued with."""
        return {"trader": self.practice.trader, "date": day, "now": clock(day)}

    def paper(self, gone: Gone) -> Path:
        """Write a paper that went out, under its number and what it is."""
        kind = kept_papers.find(self.database, gone.number).kind.value.replace(" ", "-")
        return self.write(f"{gone.number}-{kind}.pdf", gone.pdf)

    def write(self, name: str, content: bytes) -> Path:
        """Write a file, numbered in the order of the story."""
        self.count += 1
        path = self.folder / f"{self.count:02}-{name}"
        path.write_bytes(content)
        return path


def as_found(survey: Survey, bricks: tuple[tuple[int, int], ...], bed: ThinBed) -> Survey:
    """Return a survey with more cracked bricks and a thin bed on its first side."""
    side, *others = survey.elevations
    more = tuple(CrackedBrick(*place, Treatment.REPLACE) for place in bricks)
    side = replace(side, bricks=(*side.bricks, *more), thin_beds=(*side.thin_beds, bed))
    return replace(survey, elevations=(side, *others))


def clock(day: datetime.date) -> object:
    """Return a clock that stands at nine in the morning of a day."""
    at = datetime.datetime.combine(day, datetime.time(9), datetime.UTC)
    return lambda: at


if __name__ == "__main__":
    main()
