"""What SQLite asks of the disk, in order, and what a power cut may leave of it.

Only what was flushed is certain. Of what was written to a file since its last flush any part may
be there, in any order, and a write may have stopped half-way through a sector of 512 bytes. A name
that came or went is certain once its folder was flushed: SQLite does that with the first flush of a
new journal, and after a deletion that it asks to be flushed (synchronous = EXTRA).
"""

from __future__ import annotations

import ctypes
import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.store.rigged_disk import SYNC, TRUNCATE, WRITE, Methods, RiggedDisk

SECTOR = 512
Event = tuple[Any, ...]
"""A kind, and a file by its number or its name, and what was done to it."""


class RecordedDisk(RiggedDisk):
    """Keeps what is asked of the disk, once it was done; for a child process only."""

    def __init__(self) -> None:
        """Put the recording layer before the default one."""
        super().__init__()
        self.events: list[Event] = []
        self._files: dict[int, int] = {}
        self._numbers: dict[str, int] = {}

    def _open(self, layer: int, name: int, file: int, flags: int, told: int) -> int:
        path = Path(ctypes.string_at(name).decode()) if name else None
        was_there = path is not None and path.exists()
        code = super()._open(layer, name, file, flags, told)
        self._files.pop(file, None)
        if code == 0 and path is not None:
            if not was_there or path.name not in self._numbers:
                self._numbers[path.name] = len(self.events) + 1
                kind = "found" if was_there else "create"
                content = path.read_bytes() if was_there else b""
                self.events.append((kind, self._numbers[path.name], path.name, content))
            self._files[file] = self._numbers[path.name]
        return code

    def _delete(self, layer: int, name: int, sync: int) -> int:
        code = super()._delete(layer, name, sync)
        if code == 0:
            self.events.append(("delete", Path(ctypes.string_at(name).decode()).name))
            self.events += [("folder",)] if sync else []
        return code

    def _rigged_methods(self, old: Methods) -> Methods:
        new = super()._rigged_methods(old)
        write, cut, flush = WRITE(new.write), TRUNCATE(new.truncate), SYNC(new.sync)

        def kept(kind: str, file: int, code: int, *what: Any) -> int:
            if code == 0 and file in self._files:
                self.events.append((kind, self._files[file], *what))
            return code

        def written(file: int, content: int, length: int, at: int) -> int:
            code = write(file, content, length, at)
            return kept("write", file, code, at, ctypes.string_at(content, length))

        new.write = self._pointer(WRITE(written))
        new.truncate = self._pointer(
            TRUNCATE(lambda file, size: kept("truncate", file, cut(file, size), size))
        )
        new.sync = self._pointer(SYNC(lambda file, how: kept("sync", file, flush(file, how))))
        return new


@dataclass
class Disk:
    """What is certain of some files in one folder, and what is not yet."""

    content: dict[int, bytearray] = field(default_factory=dict)
    waiting: dict[int, list[Event]] = field(default_factory=dict)
    names: dict[str, int] = field(default_factory=dict)
    names_waiting: list[tuple[str, int | None]] = field(default_factory=list)
    new: set[int] = field(default_factory=set)
    acknowledged: int = 0

    def take(self, event: Event) -> None:
        """Go on by one event."""
        kind, *what = event
        if kind in {"found", "create"}:
            number, name, content = what
            self.content[number], self.waiting[number] = bytearray(content), []
            if kind == "found":
                self.names[name] = number
            else:
                self.names_waiting.append((name, number))
                self.new.add(number)
        elif kind == "delete":
            self.names_waiting.append((what[0], None))
        elif kind == "folder":
            self._flush_names()
        elif kind == "acknowledged":
            self.acknowledged = what[0]
        elif kind == "sync":
            for waited in self.waiting[what[0]]:
                put(self.content[what[0]], waited)
            self.waiting[what[0]].clear()
            if what[0] in self.new:
                self._flush_names()
        else:
            self.waiting[what[0]].append(event)

    def _flush_names(self) -> None:
        for name, number in self.names_waiting:
            self._name(self.names, name, number)
        self.names_waiting.clear()
        self.new.clear()

    @staticmethod
    def _name(names: dict[str, int], name: str, number: int | None) -> None:
        if number is None:
            names.pop(name, None)
        else:
            names[name] = number

    def after_a_cut(self, chance: random.Random) -> dict[str, bytes]:
        """Return the files as they may be found after a power cut now."""
        names = dict(self.names)
        for name, number in self.names_waiting:
            if chance.random() < 0.5:
                self._name(names, name, number)
        return {name: self._torn(number, chance) for name, number in names.items()}

    def untouched(self) -> dict[str, bytes]:
        """Return the files as they are with the power on."""
        names = dict(self.names)
        for name, number in self.names_waiting:
            self._name(names, name, number)
        found = {name: bytearray(self.content[number]) for name, number in names.items()}
        for name, number in names.items():
            for waited in self.waiting[number]:
                put(found[name], waited)
        return {name: bytes(content) for name, content in found.items()}

    def _torn(self, number: int, chance: random.Random) -> bytes:
        content = bytearray(self.content[number])
        share = chance.choice((0.1, 0.5, 0.9, 1.0))
        left = [one for one in self.waiting[number] if chance.random() < share]
        if chance.random() < 0.5:
            chance.shuffle(left)
        for event in left:
            pieces = [event]
            if event[0] == "write" and chance.random() < 0.3:
                pieces = torn(event, chance)
            for piece in pieces:
                put(content, piece)
        return bytes(content)


def torn(event: Event, chance: random.Random) -> list[Event]:
    """Return some sectors of a write, some of them only half."""
    _kind, number, at, content = event
    pieces: list[Event] = []
    for start in range(0, len(content), SECTOR):
        sector = content[start : start + SECTOR]
        length = chance.choice((0, len(sector) // 2, len(sector)))
        pieces.append(("write", number, at + start, sector[:length]))
    return pieces


def put(content: bytearray, event: Event) -> None:
    """Do to the content what a write or a truncation does."""
    if event[0] == "truncate":
        size = event[2]
        del content[size:]
        content.extend(bytes(size - len(content)))
        return
    _kind, _number, at, piece = event
    if piece:
        content.extend(bytes(max(0, at - len(content))))
        content[at : at + len(piece)] = piece


def replayed(events: Sequence[Event], upto: int) -> Disk:
    """Return the disk as it is after so many events."""
    disk = Disk()
    for event in events[:upto]:
        disk.take(event)
    return disk
