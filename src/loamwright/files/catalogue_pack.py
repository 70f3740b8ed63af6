"""The shipped catalogue read fast: each YAML file is kept as JSON too, with a checksum.

A person edits and reads the YAML; the program reads the JSON, thirty times faster, and only while
the checksum says that it was made from that very YAML. A stale JSON is never believed: then the
YAML itself is read. ``python -m loamwright.files.catalogue_pack`` makes the JSON anew.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from loamwright.files.catalogue_fields import GROUPS
from loamwright.files.document import Document, read_document

SHIPPED = Path(__file__).parent.parent / "data" / "catalogue"
"""Folder of the shipped catalogue."""


def yaml_path(group: str, folder: Path = SHIPPED) -> Path:
    """The file people edit."""
    return folder / f"{group}.yaml"


def packed_path(group: str, folder: Path = SHIPPED) -> Path:
    """The file the program reads while it is fresh."""
    return folder / "packed" / f"{group}.json"


def raw_group(group: str, folder: Path = SHIPPED) -> tuple[Mapping[str, Any], Document | None]:
    """Plain entries of one shipped group, and the document where the YAML had to be read."""
    path = yaml_path(group, folder)
    if (entries := _packed(group, folder)) is not None:
        return entries, None
    document = read_document(path)
    return document.data[group], document


def _packed(group: str, folder: Path) -> Mapping[str, Any] | None:
    """Entries from the JSON, None where it is missing, broken or not of this YAML."""
    try:
        kept = json.loads(packed_path(group, folder).read_bytes())
        if kept["sha256"] != _digest(yaml_path(group, folder)):
            return None
        entries = kept["entries"]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return entries if isinstance(entries, dict) else None


def _digest(path: Path) -> str:
    # Line ends are left out of it: a checkout may have changed them.
    return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()


def pack(folder: Path = SHIPPED) -> None:
    """Write the JSON of every group."""
    for group in GROUPS:
        path = yaml_path(group, folder)
        kept = {"sha256": _digest(path), "entries": read_document(path).data[group]}
        target = packed_path(group, folder)
        target.parent.mkdir(exist_ok=True)
        text = json.dumps(kept, ensure_ascii=False, indent=0, separators=(",", ":"))
        target.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    pack()
