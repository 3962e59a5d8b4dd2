"""phrases.yaml in: the words of the house in its other languages, once for all; the job with them, and a sheet for whoever
translates what is still missing, out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..errors import Fault, nearest
from .language import has, retold, untranslated
from .read.fields import shape_fault
from .read.nodes import read_yaml
from .read.values import fold, listed, quoted
from .records import Job
from .records.texts import Mark, Text

FILE = "phrases.yaml"
Phrases = Mapping[str, Mapping[str, str]]       # language -> text in the job's first language -> the same in that language

HEAD = """# The words of this house in its other languages, each once for all: what stands here is used wherever the map or job.yaml
# has the same words in {first} alone. Write behind each colon, in the quotes, what the page shall say; leave what you do not
# know as it is. Then save this as phrases.yaml in the job folder.
"""


def read_phrases(text: str, languages: tuple[str, ...], faults: list[Fault]) -> Phrases:
    """What has no words yet is left out."""
    root = read_yaml(text, FILE, faults)
    if root is None:
        return {}
    if root.pairs is None:
        faults.append(shape_fault(root, "the list of phrases", "a map with a language a key", "begin it with `es:` or the like"))
        return {}
    found: dict[str, dict[str, str]] = {}
    for pair in root.pairs:
        language, node = pair.key, pair.value
        if language not in languages[1:]:
            faults.append(Fault(node.where, f"`{language}` is not a further language of this job",
                                listed(languages[1:], "or") if len(languages) > 1 else "one language alone in job.yaml",
                                "correct the code, or add it to `languages` in job.yaml", nearest(language, languages[1:])))
        elif node.pairs is None:
            if not node.blank:
                faults.append(shape_fault(node, f"`{language}`", "a map", "write a line `Kitchen: Cocina` for each text"))
        else:
            found.setdefault(language, {}).update({fold(phrase): fold(said) for phrase, said in _pairs(node, language, faults)})
    return found


def _pairs(node: Any, language: str, faults: list[Fault]) -> list[tuple[str, str]]:
    pairs: list[tuple[str, str]] = []
    for pair in node.pairs:
        if pair.value.text is None and not pair.value.blank:
            faults.append(shape_fault(pair.value, f"`{pair.key}` in `{language}`", "a text", "write one text, in quotes if it has a colon"))
        elif not pair.value.blank:
            pairs.append((pair.key, pair.value.text or ""))
    return pairs


def with_phrases(job: Job, phrases: Phrases) -> Job:
    """Every text that lacks a language has it from the list; what is written for one place stands there."""
    first = job.file.languages[0]

    def say(text: str, mark: Mark) -> str:
        if mark is Mark.APART:
            return text
        more = {language: table[text] for language, table in phrases.items() if text in table and not has(text, language)}
        written = text.by_language if isinstance(text, Text) else {}
        return Text.of({first: str(text), **written, **more}, first) if more else text

    return retold(job, say) if phrases else job


def phrase_sheet(job: Job, phrases: Phrases) -> tuple[str, int]:
    """The list as it stands with a line for every text that still lacks a language, and how many those are."""
    lines, count = [HEAD.format(first=job.file.languages[0])], 0
    for language in job.file.languages[1:]:
        lines.append(f"{language}:")
        lines += [f"  {quoted(phrase)}: {quoted(said)}" for phrase, said in phrases.get(language, {}).items()]
        lacking: dict[str, str] = {}
        for lack in untranslated(job):
            if lack.language == language:
                for text in lack.texts:
                    lacking.setdefault(text, lack.id)
        lines += [f'  {quoted(text)}: ""    # {id}' for text, id in lacking.items()]
        count += len(lacking)
    return "\n".join(lines) + "\n", count
