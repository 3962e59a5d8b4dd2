"""Takes the report; gives what `check` says of texts that further languages lack: once, with a sheet for a translator."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from ...errors import CallError
from ...job.folder import read_phrases
from ...job.language import untranslated
from ...job.phrases import FILE, phrase_sheet
from ...job.records import Job
from ...protection.examine import Report
from ...protection.finding import Finding

FEW = 3     # so many findings are told one by one, with the line to write them in
LACKS = frozenset(("untranslated",))


def told_once(report: Report, findings: Iterable[Finding]) -> tuple[list[Finding], list[str]]:
    """The findings to be told one by one, and the lines that stand for many texts without a translation."""
    findings = list(findings)
    lacks = [lack for lack in untranslated(report.job) if lack.texts]
    if len(lacks) <= FEW:
        return findings, []
    lines = []
    for language in report.job.file.languages[1:]:
        texts = {text for lack in lacks if lack.language == language for text in lack.texts}
        if texts:
            lines.append(f"  FIX  {len(texts)} texts have no words in `{language}`; the pages show them in the first language. "
                         f"`sitegen check JOB --phrases FILE` writes them into a sheet for a translator; filled in, it is "
                         f"{FILE} of the job folder.")
    places = {str(lack.where) for lack in lacks}
    return [one for one in findings if one.kind not in LACKS or str(one.where) not in places], lines


def write_sheet(job: Job, folder: Path, out: Path) -> str:
    """What to tell. CallError: the file is there already, or cannot be written."""
    text, count = phrase_sheet(job, read_phrases(folder, job.file.languages, []))
    if out.exists():
        raise CallError(f"{out} is there already and was left alone; name a new file.")
    try:
        out.write_text(text, "utf-8", newline="\n")
    except OSError as error:
        raise CallError(f"{out} cannot be written: {error.strerror or error}; name another file.") from None
    return f"Sheet for a translator written to {out}: {count} texts without a translation. Fill it in and save it as {FILE} in the job folder."
