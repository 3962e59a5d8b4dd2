"""job.yaml into its record."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from sitegen.errors import Fault, Where
from sitegen.job import read_job
from sitegen.job.job_file import DEFAULT_REMINDERS, read_job_file
from sitegen.job.labels.stock import DEFAULT as DEFAULT_LABELS
from sitegen.job.month_day import DAY_RULES, ReminderRule
from sitegen.job.records import Code, Job, JobFile
from sitegen.job.records.texts import Text

HEAD = "id: elm-court-12\ntitle: Kitchen\n"


def read_head(more: str) -> tuple[JobFile | None, list[str]]:
    faults: list[Fault] = []
    return read_job_file(HEAD + more, faults), [fault.met for fault in faults]


def test_every_key_reaches_the_record(folder: Path) -> None:
    assert read_job(folder).file == JobFile(
        id="elm-court-12", title="Kitchen and dining room, 12 Elm Court", handover=date(2026, 5, 14),
        base_url="https://binder.hollis-electric.example/elm-court-12",
        code=Code("NEC", "2023", "none known, ask the county"), languages=("en",), labels=read_job(folder).file.labels,
        reminders=ReminderRule(DAY_RULES["last friday"], time(18, 30)),
        contractor={"firm": "Hollis Electric", "name": "Dana Hollis", "phone": "555-0142", "licence": "E-20417",
                    "van": "the green one"},
        home={"name": "Osei family", "address": "12 Elm Court, Springfield"},
        private={"alarm": "0142", "key": "under the third pot"},
        punch_list=("Cover plate in the pantry is cracked", "Left to do: paint behind the refrigerator"),
        where=Where("job.yaml", 1))


def test_two_lines_are_enough() -> None:
    file, faults = read_head("handover:\n")
    assert not faults
    assert file == JobFile("elm-court-12", "Kitchen", None, None, Code(), ("en",), DEFAULT_LABELS, DEFAULT_REMINDERS,
                           {}, {}, {}, (), Where("job.yaml", 1))
    assert DEFAULT_REMINDERS == ReminderRule(DAY_RULES["first saturday"], time(9, 0))


@pytest.mark.parametrize("id", ["..", ".elm", "elm.", "con", "NUL.txt", "elm court", "elm/12", "elm\\12", "x" * 65,
                                "\u00e9lm"])
def test_an_id_that_cannot_name_a_folder_is_refused(id: str) -> None:
    faults: list[Fault] = []
    assert read_job_file(f"id: {id}\ntitle: Kitchen\n", faults).id == ""
    assert [fault.met for fault in faults] == [f"`id: {id}` cannot name a folder"]


@pytest.mark.parametrize(("url", "kept"), [
    ("https://host.example", "https://host.example"),
    ("http://host.example:8080/a/b//", "http://host.example:8080/a/b"),
    ("https://xn--nxasmq6b.example/", "https://xn--nxasmq6b.example")])
def test_an_address_loses_only_its_last_slashes(url: str, kept: str) -> None:
    assert read_head(f"base_url: {url}\n")[0].base_url == kept


@pytest.mark.parametrize("url", ["host.example", "ftp://host.example", "https://", "https:///a",
                                 "https://u@host.example", "https://u:p@host.example", "https://host.example/?a=b",
                                 "https://host.example/#", "https://host.example/?", "https://host.example/a b",
                                 "https://host.example:port/",
                                 "https://[host.example", "javascript://host.example/", "https://host.example/<a>"])
def test_a_doubtful_address_is_refused(url: str) -> None:
    assert read_head(f'base_url: "{url}"\n')[1] == [f"`base_url: {url}` is no address that a site can stand at"]


@pytest.mark.parametrize("day", ["first monday", "Second  Tuesday", "third wednesday", "fourth thursday", "last sunday",
                                 "day 1", "day 28", "last day"])
def test_a_day_that_every_month_has_can_be_reminded_of(day: str) -> None:
    assert read_head(f"reminders: {{day: {day}}}\n")[0].reminders == ReminderRule(
        DAY_RULES[" ".join(day.lower().split())], time(9, 0))


@pytest.mark.parametrize("day", ["day 0", "day 01", "day 32", "fifth monday", "monday", "first tuesdy"])
def test_what_is_no_day_of_a_month_is_refused(day: str) -> None:
    assert read_head(f"reminders: {{day: {day}}}\n")[1] == [f"`day: {day}` is no day of a month"]


@pytest.mark.parametrize("day", ["day 29", "day 30", "day 31"])
def test_a_day_that_short_months_lack_is_explained(day: str) -> None:
    assert read_head(f"reminders: {{day: {day}}}\n")[1] == [
        f"`day: {day}` would be skipped in every month too short for it"]


@given(st.times())
def test_any_time_of_day_can_be_written(at: time) -> None:
    assert read_head(f"reminders: {{at: {at.hour}:{at.minute:02}}}\n")[0].reminders.at == at.replace(
        second=0, microsecond=0)


@pytest.mark.parametrize("at", ["24:00", "9:60", "9", "9 am", "09:0"])
def test_what_is_no_time_of_day_is_refused(at: str) -> None:
    assert read_head(f'reminders: {{at: "{at}"}}\n')[1] == [f"`at: {at}` is no time of day"]


def test_other_keys_of_contractor_and_home_are_kept_unless_they_are_slips() -> None:
    file, faults = read_head("contractor: {telephone: 555-0142, van: green}\nhome: {cat: indoors, two of them}\n")
    assert not faults
    assert dict(file.contractor) == {"telephone": "555-0142", "van": "green"}
    assert dict(file.home) == {"cat": "indoors, two of them"}
    assert read_head("contractor: {fone: 555-0142}\n")[1] == []
    assert read_head("contractor: {phones: 555-0142}\n")[1] == ["unknown key `phones` in `contractor`"]


def test_an_address_keeps_its_lines() -> None:
    assert read_head("home:\n  address: |\n    12 Elm Court\n    Springfield\n")[0].home["address"] == (
        "12 Elm Court\nSpringfield")


@pytest.mark.parametrize(("languages", "codes"), [
    ("[en]", ("en",)), ("[es, EN]", ("es", "en")), ("zh-Hant", ("zh-hant",)), ("[en, no]", ("en", "no"))])
def test_languages_are_codes_the_first_one_first(languages: str, codes: tuple[str, ...]) -> None:
    """`no` is Norwegian here: YAML types nothing."""
    file, faults = read_head(f"languages: {languages}\n")
    assert not faults and file.languages == codes


@pytest.mark.parametrize(("languages", "met"), [
    ("[]", "`languages: []` is an empty list"), ("[en, Spanish]", "`Spanish` in `languages` is no language code"),
    ("en es", "`en es` in `languages` is no language code"), ("[en, es, EN]", "`en` stands twice in `languages`"),
    ("{en: English}", "`languages: {en: English}` is not a list of languages"),
    ("[en, [es]]", "`languages: [en, [es]]` is not a list of languages")])
def test_what_is_no_list_of_languages_is_one_fault(languages: str, met: str) -> None:
    """And no text is judged by languages that are not known."""
    file, faults = read_head(f"languages: {languages}\npunch_list: [{{en: Paint, fr: Peinture}}]\n")
    assert faults == [met] and file.languages == ()


def test_texts_that_people_read_may_be_written_once_a_language(read: Callable[..., Job]) -> None:
    file = read(job="id: elm\ntitle: {en: Kitchen, es: Cocina}\nlanguages: [es, en]\n"
                    "code: {book: NEC, amendments: {en: none,  es: ninguna, por hoy}}\n"
                    "private: {dog: {en: Biscuit}}\npunch_list:\n  - {en: Paint, es: Pintura}\n  - Plate\n").file
    assert isinstance(file.title, Text)
    assert (file.title, dict(file.title.by_language)) == ("Cocina", {"en": "Kitchen", "es": "Cocina"})
    assert file.code.amendments.by_language["es"] == "ninguna, por hoy"
    assert (file.private["dog"], dict(file.private["dog"].by_language)) == ("Biscuit", {"en": "Biscuit"})
    assert file.punch_list == ("Pintura", "Plate") and type(file.punch_list[1]) is str


def test_what_people_do_not_read_is_one_text(faults: Callable[..., list[str]]) -> None:
    assert faults(job="id: {en: elm}\ntitle: Kitchen\nreminders: {day: {en: last day}}\n") == [
        "job.yaml:1: `id` is a map; expected a text. Write one text, in quotes if it has a colon.",
        "job.yaml:3: `day` is a map; expected a text. Write one text, in quotes if it has a colon."]
