"""What can be taken away (findings, tables, pictures, fields) and brought in (files, checked)."""

from __future__ import annotations

import asyncio
import csv
import io
import re
import zipfile
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from fastapi import FastAPI, Request, Response, UploadFile
from fastapi.responses import HTMLResponse, PlainTextResponse, RedirectResponse

from loamwright import workflow
from loamwright.errors import InputError
from loamwright.report import quantities
from loamwright.report.plain import clean
from loamwright.web import access, build_downloads
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.web.prefs import Prefs

if TYPE_CHECKING:
    from loamwright.habitat.habitat import Habitat
    from loamwright.web.base import Workbench
    from loamwright.web.desk import Desk

WAIT = 60.0
"""Seconds a download waits for the engines to be done."""

SPACING = 0.05
"""Distance between points of the fields' file [m]; wider in a large habitat."""

TAKEN = {".yaml": 2_000_000, ".yml": 2_000_000, ".stl": 20_000_000, ".obj": 20_000_000,
         ".ply": 20_000_000, ".glb": 20_000_000, ".gltf": 20_000_000, ".ies": 2_000_000,
         ".ldt": 2_000_000, ".csv": 5_000_000, ".epw": 5_000_000}  # fmt: skip
"""Endings of files that may be brought in, and how large they may be [bytes]."""


def register(bench: Workbench, api: FastAPI) -> None:
    """Make the downloads and the upload reachable."""

    @api.get("/get/{what}")
    async def get(request: Request, what: str, file: str = "") -> Response:
        owner = request.scope.get(access.OWNER, "")
        try:
            desk = bench.desk(owner, file)
            if what == "habitat.yaml":
                return _download(desk.draft.text.encode(), desk, "", "yaml", "text/yaml")
            if what not in _MAKERS and what not in build_downloads.MAKERS:
                return PlainTextResponse("there is no such download", 404)
            if desk.habitat is None:
                return PlainTextResponse("this file has mistakes in it; mend them first", 409)
            bench.engines.release()
            person = Prefs(bench.settings.state, owner)
            system = person.values["system"] or _habitat(desk).units
            if what in build_downloads.MAKERS:
                made = await build_downloads.MAKERS[what](desk, system)
                return _download(made[0], desk, *made[1:])
            await _settled(desk)
            return await _MAKERS[what](desk, system)
        except InputError as error:
            return PlainTextResponse("\n".join(str(p) for p in error.problems), 400)
        except (JobFailedError, TimeoutError) as error:
            return PlainTextResponse(str(error) or "the engines are still at work; try again", 503)
        except JobStoppedError:
            return PlainTextResponse("a later download took the place of this one", 409)

    @api.post("/put")
    async def put(request: Request, file: UploadFile) -> Response:
        try:
            name = await _brought(bench, file)
        except InputError as error:
            return PlainTextResponse("\n".join(p.message for p in error.problems), 400)
        if name.endswith((".yaml", ".yml")):
            return RedirectResponse(f"/habitat?file={quote(name)}", 303)
        return RedirectResponse("/", 303)


def _habitat(desk: Desk) -> Habitat:
    """The habitat of a desk that has been found to have one."""
    assert desk.habitat is not None
    return desk.habitat


async def _settled(desk: Desk) -> None:
    """Wait until the engines have said what there is to say of the draft."""
    for _ in range(int(WAIT / 0.1)):
        if not ({"light", "climate", "ground"} & set(desk.busy)) and (
            desk.findings or desk.troubles
        ):
            return
        await asyncio.sleep(0.1)
    raise TimeoutError


def _download(content: bytes, desk: Desk, part: str, ending: str, kind: str) -> Response:
    stem = re.sub(r"[^A-Za-z0-9_-]+", "-", desk.draft.path.stem).strip("-") or "habitat"
    name = f"{stem}{'-' if part else ''}{part}.{ending}"
    headers = {"content-disposition": f'attachment; filename="{name}"', "cache-control": "no-store"}
    return Response(content, media_type=kind, headers=headers)


def _rows(rows: Iterable[Iterable[Any]]) -> bytes:
    """CSV (RFC 4180) in which no text can be taken for a formula by a spreadsheet."""
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    for row in rows:
        write.writerow([_cell(v) for v in row])
    return out.getvalue().encode("utf-8")


def _cell(value: Any) -> Any:
    if isinstance(value, str):
        text = clean(value, 500)
        return f"'{text}" if text[:1] in "=+-@" and not re.fullmatch(r"-?[\d.]+", text) else text
    return "" if value is None else value


async def _findings_csv(desk: Desk, system: str) -> Response:
    from loamwright.engine.findings import worst_first
    from loamwright.report.words import about_words, word

    heads = ("state", "about", "need", "value", "wanted", "margin", "where", "when", "why",
             "to try", "source", "value SI", "low SI", "high SI")  # fmt: skip
    rows: list[Iterable[Any]] = [heads]
    for f in worst_first(desk.findings):
        w = word(f, _habitat(desk), system)
        rows.append((w.state, about_words(f.about, _habitat(desk)), w.title, w.value, w.wanted,
                     w.margin, w.where, w.when, w.why, w.advice, w.source, f.value, f.low,
                     f.high))  # fmt: skip
    return _download(_rows(rows), desk, "findings", "csv", "text/csv")


async def _findings_json(desk: Desk, system: str) -> Response:
    from loamwright.report.json_out import check_document, dump

    document = check_document(_habitat(desk), desk.findings, {}, system)
    return _download(dump(document).encode(), desk, "findings", "json", "application/json")


async def _sites_csv(desk: Desk, system: str) -> Response:
    from loamwright.report.words import FACINGS

    values = desk.values or {}
    quantity_names = list(values.get("up", {}))
    heads = ["site", "role", "x [m]", "y [m]", "z [m]", "facing"]
    heads += [f"{q} [{quantities.unit(q, system)}]".replace(" []", "") for q in quantity_names]
    rows: list[Iterable[Any]] = [heads]
    for n, site in enumerate(_habitat(desk).sites):
        for facing in values:
            numbers = [f"{quantities.shown(q, values[facing][q][n], system):.5g}"
                       for q in quantity_names]  # fmt: skip
            rows.append([site.name, site.role, *(f"{x:.4f}" for x in site.at),
                         FACINGS.get(facing, facing), *numbers])  # fmt: skip
    return _download(_rows(rows), desk, "sites", "csv", "text/csv")


async def _days_csv(desk: Desk, system: str) -> Response:
    from loamwright.report.day_out import day_csv

    if not desk.days:
        raise JobFailedError(desk.troubles.get("climate", "there is no day yet"))
    table = day_csv(_habitat(desk), list(desk.days.values()), system)
    return _download(table.encode(), desk, "days", "csv", "text/csv")


async def _made(desk: Desk, system: str) -> Any:
    days = {s: desk.days[s] for s in workflow.CHECK_SEASONS if s in desk.days}
    return await desk.engines.run(desk.id, "pages", habitat=_habitat(desk), system=system,
                                  findings=desk.findings, days=days, water=desk.ground,
                                  drills=desk.drills or [])  # fmt: skip


async def _print(desk: Desk, system: str) -> Response:
    page, _ = await _made(desk, system)
    return HTMLResponse(page, headers={"cache-control": "no-store"})


async def _pictures(desk: Desk, system: str) -> Response:
    page, pictures = await _made(desk, system)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("overview.html", page)
        for name, content in pictures.items():
            archive.writestr(name, content)
    return _download(out.getvalue(), desk, "pictures", "zip", "application/zip")


async def _fields(desk: Desk, _: str) -> Response:
    x, y, z = _habitat(desk).enclosure.inside
    spacing = max(SPACING, (x * y * z / 60_000.0) ** (1 / 3))
    made = await desk.engines.run(desk.id, "fields_file", habitat=_habitat(desk), spacing=spacing)
    return _download(made, desk, "fields", "nc", "application/x-netcdf")


_MAKERS = {
    "findings.csv": _findings_csv, "findings.json": _findings_json, "sites.csv": _sites_csv,
    "days.csv": _days_csv, "print": _print, "pictures.zip": _pictures, "fields.nc": _fields,
}  # fmt: skip


async def _brought(bench: Workbench, file: UploadFile) -> str:
    """Take a file in, if its kind and size allow; its name in the served folder."""
    given = Path(file.filename or "").name
    ending = Path(given).suffix.lower()
    if ending not in TAKEN:
        known = ", ".join(sorted(TAKEN))
        raise InputError(f"'{clean(ending or given, 40)}' is not a kind of file taken in ({known})")
    content = await file.read(TAKEN[ending] + 1)
    if len(content) > TAKEN[ending]:
        raise InputError(f"is larger than {TAKEN[ending] / 1e6:g} MB")
    stem = re.sub(r"[^A-Za-z0-9_-]+", "-", Path(given).stem).strip("-")[:60] or "file"
    target, number = bench.settings.root / f"{stem}{ending}", 2
    while target.exists():
        target, number = bench.settings.root / f"{stem}-{number}{ending}", number + 1
    if ending in (".yaml", ".yml"):
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise InputError("is not a text in UTF-8") from None
        await asyncio.to_thread(workflow.write_file, target, text)
    else:
        await asyncio.to_thread(target.write_bytes, content)
    return bench.name_of(target)
