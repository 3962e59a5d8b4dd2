"""A job folder in; the texts of a new job like it out: its map, firm, code, languages and label stock, without anything that
was shown in that house, printed for it, or is known of the people in it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import yaml

from ...errors import CallError, Fault
from ...job import job_file as jobfile, read_job
from ...job.map import read as protection_map
from ...job.phrases import FILE as PHRASES
from ...job.read.files import text_of

KEPT = ("code", "languages", "labels", "reminders", "contractor", "prices", "wishes")    # of job.yaml
# Of the map: what was found out in that house, or is true of the very things that hang there.
LEFT_OUT = frozenset({"installed", "date code", "date_code", "was", "removed", "not_proved", "photo"})
OF_THAT_JOB = frozenset({"permit", "inspected"})     # of the contractor

TOLD = ("Taken from {old}: the map with {points} points, the firm, the code, the languages with their phrases, the label stock. Left out: its tests, "
        "visits, ledger of labels, notes and photos; title, handover, address of the site, home and private; in the map {keys}.\n"
        "Correct the map wherever this house differs, notes and rooms too; then test all of it. Nothing of the other house shows "
        "anything here.\n")


def texts_like(old: Path, starter: str) -> tuple[dict[str, str], str]:
    """job.yaml (made from the starter's) and the map, by their names; and what to tell.

    Raises JobUnreadable where `old` cannot be read, CallError where its texts cannot be parted.
    """
    job = read_job(old)
    file_text, map_text = (text_of(old, name, []) or "" for name in (jobfile.FILE, protection_map.FILE))
    texts = {jobfile.FILE: _job_file(file_text, starter), protection_map.FILE: _without(map_text, LEFT_OUT)}
    if (old / PHRASES).exists():
        texts[PHRASES] = text_of(old, PHRASES, []) or ""
    faults: list[Fault] = []
    jobfile.read_job_file(texts[jobfile.FILE], faults)
    protection_map.read_map(texts[protection_map.FILE], faults, job.file.languages, [])
    if faults:
        raise CallError(f"{old} could not be taken over whole; nothing was written.\n" + "\n".join(map(str, faults)))
    keys = ", ".join(f"`{key}`" for key in sorted(LEFT_OUT - {"date_code"}))
    return texts, TOLD.format(old=old, points=len(job.points), keys=keys)


def _job_file(old: str, starter: str) -> str:
    """The starter with the lines of the other job in place of its own, for the keys that are kept."""
    old = _without(old, OF_THAT_JOB)
    theirs, lines = _blocks(old), starter.splitlines()
    for key, (start, end) in sorted(_blocks(starter).items(), key=lambda item: -item[1][0]):
        if key in KEPT:
            taken = theirs.pop(key, None)
            lines[start:end] = old.splitlines()[slice(*taken)] if taken else []
    for key, (start, end) in theirs.items():
        if key in KEPT:
            lines += ["", *old.splitlines()[start:end]]
    return "\n".join(lines) + "\n"


def _blocks(text: str) -> dict[str, tuple[int, int]]:
    """Key of the root -> its first line and the one behind its last, comments below it left out."""
    root = yaml.compose(text, Loader=yaml.CSafeLoader)
    pairs = root.value if root else []
    if len({key.start_mark.line for key, _ in pairs}) < len(pairs):
        raise CallError("job.yaml has several keys on one line; write each of `id`, `title` and so on on a line of its own.")
    lines, found = text.splitlines(), {}
    for key, value in pairs:
        end = value.end_mark.line + (value.end_mark.column > 0)
        while end > key.start_mark.line + 1 and (not lines[end - 1].strip() or lines[end - 1].lstrip().startswith("#")):
            end -= 1
        found[key.value] = key.start_mark.line, max(end, key.start_mark.line + 1)
    return found


def _without(text: str, keys: frozenset[str]) -> str:
    """The YAML text without these keys, wherever they stand."""
    root = yaml.compose(text, Loader=yaml.CSafeLoader)
    for start, end in sorted(_spans(root, text, keys), reverse=True) if root else ():
        text = text[:start] + text[end:]
    return text


def _spans(node: yaml.Node, text: str, keys: frozenset[str]) -> Iterator[tuple[int, int]]:
    """From where to where each such key stands with its value, in characters."""
    if isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _spans(item, text, keys)
    if not isinstance(node, yaml.MappingNode):
        return
    at = 0
    while at < len(node.value):
        first, behind = at, at + 1
        if node.value[at][0].value in keys:
            while behind < len(node.value) and (_keyless(node, behind) or node.value[behind][0].value in keys):
                behind += 1     # in {not_proved: behind the range, tiled over} the second piece is no key
            yield _span(node, text, first, behind)
        else:
            yield from _spans(node.value[at][1], text, keys)
        at = behind


def _keyless(node: yaml.MappingNode, at: int) -> bool:
    key, value = node.value[at]
    return bool(node.flow_style) and isinstance(value, yaml.ScalarNode) and value.start_mark.index == key.end_mark.index


def _span(node: yaml.MappingNode, text: str, first: int, behind: int) -> tuple[int, int]:
    """Of the pairs from `first` to before `behind`: up to the next key, or, of the last ones, from the end of the one before."""
    start = node.value[first][0].start_mark.index
    if behind < len(node.value):
        return start, node.value[behind][0].start_mark.index
    end = start + len(text[start:node.value[behind - 1][1].end_mark.index].rstrip())
    if node.flow_style:
        return (node.value[first - 1][1].end_mark.index if first else start), end
    line = text.rfind("\n", 0, start) + 1
    return (line if not text[line:start].strip() else start), (text.find("\n", end) + 1 or len(text))
