"""job.yaml into its record."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from sitegen.job import read_job
from sitegen.job.jobfile import DEFAULT_LABELS, DEFAULT_REMINDERS, read_job_file
from sitegen.job.faults import Fault
from sitegen.job.records import Code, Job, JobFile, LabelStock, ReminderRule, Where

HEAD = "id: elm-court-12\ntitle: Kitchen\n"


def read_head(more: str) -> tuple[JobFile | None, list[str]]:
    faults: list[Fault] = []
    return read_job_file(HEAD + more, faults), [fault.met for fault in faults]


def test_every_key_reaches_the_record(folder: Path) -> None:
    assert read_job(folder).file == JobFile(
        id="elm-court-12", title="Kitchen and dining room, 12 Elm Court", handover=date(2026, 5, 14),
        base_url="https://binder.hollis-electric.example/elm-court-12",
        code=Code("NEC", "2023", "none known, ask the county"), languages=("en",), labels=LabelStock(63.5, 38.1),
        reminders=ReminderRule("last friday", time(18, 30)),
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
    assert (DEFAULT_LABELS, DEFAULT_REMINDERS) == (LabelStock(63.5, 38.1), ReminderRule("first saturday", time(9, 0)))


@pytest.mark.parametrize("id", ["..", ".elm", "elm.", "con", "NUL.txt", "elm court", "elm/12", "elm\\12", "x" * 65,
                                "\u00e9lm"])
def test_an_id_that_cannot_name_a_folder_is_refused(id: str) -> None:
    faults: list[Fault] = []
    assert read_job_file(f"id: {id}\ntitle: Kitchen\n", faults) is None
    assert [fault.met for fault in faults] == [f"`id: {id}` cannot name a folder"]


@pytest.mark.parametrize(("url", "kept"), [
    ("https://host.example", "https://host.example"),
    ("http://host.example:8080/a/b//", "http://host.example:8080/a/b"),
    ("https://xn--nxasmq6b.example/", "https://xn--nxasmq6b.example")])
def test_an_address_loses_only_its_last_slashes(url: str, kept: str) -> None:
    assert read_head(f"base_url: {url}\n")[0].base_url == kept


@pytest.mark.parametrize("url", ["host.example", "ftp://host.example", "https://", "https:///a",
                                 "https://u@host.example", "https://u:p@host.example", "https://host.example/?a=b",
                                 "https://host.example/#", "https://host.example/?", "https://host.example/a b", "https://host.example:port/",
                                 "https://[host.example", "javascript://host.example/", "https://host.example/<a>"])
def test_a_doubtful_address_is_refused(url: str) -> None:
    assert read_head(f'base_url: "{url}"\n')[1] == [f"`base_url: {url}` is no address that a site can stand at"]


@pytest.mark.parametrize(("size", "stock"), [
    ("63.5 x 38.1 mm", LabelStock(63.5, 38.1)), ("2.5 x 1.5 in", LabelStock(63.5, 38.1)),
    ("30x20mm", LabelStock(30, 20)),
    ("215 \u00d7 280 MM", LabelStock(215, 280)), ("4 x 2 in", LabelStock(101.6, 50.8))])
def test_labels_are_measured_in_mm_or_inches(size: str, stock: LabelStock) -> None:
    """An inch is 25.4 mm exactly (the international inch of 1959; from memory)."""
    assert read_head(f"labels: {{size: {size}}}\n")[0].labels == stock


@pytest.mark.parametrize("size", ["63.5 x 38.1", "29.9 x 20 mm", "30 x 19.9 mm", "215.1 x 280 mm", "215 x 280.1 mm",
                                  "1..2 x 3 mm", "big", "2.5 in"])
def test_labels_that_cannot_be_printed_are_refused(size: str) -> None:
    assert read_head(f"labels: {{size: {size}}}\n")[1] == [f"`size: {size}` is no label that can be printed"]


@pytest.mark.parametrize("day", ["first monday", "Second  Tuesday", "third wednesday", "fourth thursday", "last sunday",
                                 "day 1", "day 28", "last day"])
def test_a_day_that_every_month_has_can_be_reminded_of(day: str) -> None:
    assert read_head(f"reminders: {{day: {day}}}\n")[0].reminders == ReminderRule(
        " ".join(day.lower().split()), time(9, 0))


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


@pytest.mark.parametrize("languages", ["[es]", "[en, es]", "es"])
def test_another_language_is_not_read_yet(faults: Callable[..., list[str]], read: Callable[..., Job],
                                          languages: str) -> None:
    assert faults(job=f"{HEAD}languages: {languages}\n") == [
        f"job.yaml:3: `languages: {languages}` is not read yet by this version; expected English alone (`en`). Write "
        "`languages: [en]`."]
    assert read(job=f"{HEAD}languages: [EN]\n").file.languages == ("en",)
