"""Where a file lies: folders that other programs copy behind its back, and disks over a network."""

from __future__ import annotations

import re
from pathlib import Path

SYNCED = re.compile(r"sync(?!o)|cloud|drive\b|\bshared?\b|\bmirror(ed)?\b")
"""Words in the names of folders that are kept in step with another place. House rule."""
NETWORK = {
    "nfs", "nfs4", "cifs", "smb", "smbfs", "smb2", "smb3", "sshfs", "fuse.sshfs", "davfs",
    "fuse.davfs", "afs", "9p", "ceph", "fuse.ceph", "glusterfs", "fuse.glusterfs", "ncpfs",
    "webdav", "afpfs", "lustre",
}  # fmt: skip
"""Kinds of file system that lie on another machine, as systems name them. From memory."""
MOUNTS = Path("/proc/self/mounts")
WARNING = "the file lies in {where}, where another program or machine may change it meanwhile"


def synced_folder(path: Path, *, mounts: Path = MOUNTS) -> str:
    r"""Return a warning when a file lies in a synchronised or network folder, or nothing.

    Such folders copy a file while it is being written, and two machines cannot keep each other
    from writing, so a file there may be lost; backups are safe there.

    >>> synced_folder(Path("/srv/ines/Cloud Files/work.perpend"), mounts=Path("/none"))[:43]
    'the file lies in Cloud Files, where another'
    >>> synced_folder(Path("/srv/ines/work.perpend"), mounts=Path("/none"))
    ''
    """
    real = path.expanduser().absolute()
    real = real.parent.resolve() / real.name
    if str(path).startswith(("\\\\", "//")):
        return WARNING.format(where="a network folder")
    for folder in real.parent.parts:
        if SYNCED.search(folder.casefold()):
            return WARNING.format(where=folder)
    if _kind_of_disk(real, mounts) in NETWORK:
        return WARNING.format(where="a network folder")
    return ""


def _kind_of_disk(real: Path, mounts: Path) -> str:
    """Return the kind of file system a path lies on, where the system tells."""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    found = ""
    longest = -1
    for line in lines:
        parts = line.split()
        if len(parts) < 3:
            continue
        # Spaces in a folder's name are written as their octal number.
        folder = Path(parts[1].replace("\\040", " "))
        if len(folder.parts) > longest and real.is_relative_to(folder):
            longest, found = len(folder.parts), parts[2]
    return found
