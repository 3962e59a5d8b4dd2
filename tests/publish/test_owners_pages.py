"""What no page for who lives there may ask of them: no wire is lifted, nothing opened, no button pressed more often than the rule."""

import re
from pathlib import Path

from house import ROOT, parsed

from sitegen.job import read_job

# Work of an electrician, in either language.
WORK = re.compile(r"\b(lift(s|ed|ing)?|ohms?|megohms?|conductors?|neutral|unscrew|insulation tester|lock and tag|neutro|desconect\w+|ohmios)\b", re.I)


def texts(bound: Path):
    """(where, text): the site without the service record, paper without the electrician's sheets, labels, calendars."""
    for path in (bound / "site").rglob("*.html"):
        if "service-record" not in path.parts:
            yield path, " ".join(parsed(path).find("body").itertext())
    for path in (bound / "print").glob("binder*.html"):
        body = parsed(path).find("body")
        for sheet in body.iter():
            if "sheet" in sheet.get("class", "").split() and "for-trade" not in sheet.get("class", "").split():
                yield path, " ".join(sheet.itertext())
    for path in (bound / "site" / "reminders").rglob("*.ics"):
        yield path, path.read_bytes().decode().replace("\r\n ", "")
    for one in read_job(ROOT / "example_job").printed:
        if one.says:
            yield Path("printed_labels.yaml"), one.says.words


def test_no_owners_page_mentions_work_on_wires(bound):
    seen = 0
    for path, text in texts(bound):
        found = WORK.search(text)
        assert not found, (path, text[max(0, found.start() - 80):found.end() + 40])
        seen += 1
    assert seen > 150
    record = bound / "site" / "service-record" / "isolate" / "K1" / "trips" / "index.html"
    assert WORK.search(record.read_text("utf-8")), "the electrician's own page has such words"


def test_no_label_and_no_reminder_asks_for_a_second_reset(bound):
    """A label and a reminder ask for one RESET after TEST and one when there is no power; what comes after that is on the page."""
    for path, text in texts(bound):
        if path.suffix in (".ics", ".yaml"):
            for part in re.split(r"BEGIN:VEVENT|\\n", text):
                assert len(re.findall(r"press(?:es)?\W+RESET", part, re.I)) <= 1 + (path.suffix == ".yaml"), (path, part[:200])
