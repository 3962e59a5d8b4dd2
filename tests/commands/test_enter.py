"""What the walk page saved, entered: whole rows only, each once, each by its time, and nothing that stood there touched."""

import csv
import io
from itertools import permutations

import pytest
from house import edit

from sitegen.binder.walk.mark import mark, places_line
from sitegen.cli import main
from sitegen.commands.enter.saved import PAGE_COLUMNS, read_saved
from sitegen.job import read_job

DAY = "2026-05-20"
PRESS = {"date": DAY, "outlet": "K2", "pressed": "tester", "volts": "121", "wiring": "correct", "tripped": "K1", "went_dead": "K2",
         "volts_after": "0", "reset": "yes", "by": "A. Fern"}


def row(time, **cells):
    return PRESS | {"time": time} | cells


class Phone:
    """A page made for the job as it stands when the phone gets it."""

    def __init__(self, job):
        self.folder, made_for = job, read_job(job)
        self.head, self.mark = f"# {made_for.file.id}\n{places_line(made_for)}\n{','.join(PAGE_COLUMNS)}\n", mark(made_for)

    def saves(self, name, *rows):
        out = io.StringIO()
        csv.DictWriter(out, PAGE_COLUMNS, restval="", lineterminator="\n").writerows({"page": self.mark} | one for one in rows)
        path = self.folder.parent / name
        path.write_text(self.head + out.getvalue(), "utf-8")
        return str(path)


@pytest.fixture
def phone(job):
    return Phone(job)


@pytest.fixture
def enter(job, capsys):
    def call(*files):
        code = main(["enter", str(job), *files])
        told = capsys.readouterr()
        return code, told.out + told.err
    return call


def trips(job):
    return (job / "trip_tests.csv").read_bytes()


def refused(job, enter, *files):
    """The words of a fault; nothing was written."""
    before = trips(job)
    code, said = enter(*files)
    assert code == 2 and trips(job) == before and "Traceback" not in said
    assert not [path for path in job.iterdir() if path.name.startswith(".")]
    return said


def test_rows_go_in_by_their_time_and_old_rows_keep_their_bytes(job, phone, enter):
    head, *old = trips(job).splitlines(keepends=True)
    file = phone.saves("a.csv", row("09:00:10"), row("09:04:00", outlet="K1", went_dead="K1"))
    assert enter(file) == (0, "2 rows entered into trip_tests.csv.\nIts header got `time` and `page`; no row that stood there was "
                           f"touched.\nNext: `sitegen check {job}`.\n")
    now = trips(job).splitlines(keepends=True)
    assert now[0] == head.rstrip(b"\n") + b",time,page\n" and now[1:len(old) + 1] == old
    more = phone.saves("b.csv", row("09:02:00", outlet="K3", tripped="K3", went_dead="K3"), row("08:00:00", date="2026-05-07"))
    assert enter(more)[0] == 0
    assert [(str(test.date), str(test.time), test.outlet) for test in read_job(job).tests if test.time] == [
        ("2026-05-07", "08:00:00", "K2"), (DAY, "09:00:10", "K2"), (DAY, "09:02:00", "K3"), (DAY, "09:04:00", "K1")]
    assert set(now[1:]) < set(trips(job).splitlines(keepends=True))
    assert main(["check", str(job)]) == 0


def test_twice_adds_nothing_and_a_longer_file_of_the_same_phone_adds_the_rest(job, phone, enter):
    first, both = row("09:00:00"), [row("09:00:00"), row("09:30:00", note="Done over")]
    assert enter(phone.saves("a.csv", first))[0] == 0
    once = trips(job)
    assert enter(phone.saves("a.csv", first)) == (0, "Nothing new: trip_tests.csv has 1 row of this file already.\n")
    assert trips(job) == once
    assert enter(phone.saves("b.csv", *both))[1].startswith("1 row entered into trip_tests.csv, 1 had been there.\n")
    assert enter(phone.saves("a.csv", first), phone.saves("b.csv", *both))[1].startswith("Nothing new")
    assert enter(phone.saves("a.csv", first))[1].startswith("Nothing new")


def test_the_order_in_which_files_are_entered_changes_nothing(job, phone, enter):
    old = trips(job)
    files = [phone.saves("a.csv", row("09:00:00"), row("09:03:00", outlet="K1", went_dead="K1")),
             phone.saves("b.csv", row("09:01:00", outlet="K3", tripped="K3", went_dead="K3"), row("09:02:00", date="2026-05-21")),
             phone.saves("c.csv", row("08:59:00", outlet="K4", tripped="K3", went_dead="K4", by="B. Oak"))]
    found = set()
    for order in permutations(files):
        (job / "trip_tests.csv").write_bytes(old)
        assert [enter(file)[0] for file in order] == [0, 0, 0]
        found.add(trips(job))
    (job / "trip_tests.csv").write_bytes(old)
    assert enter(*files)[0] == 0
    assert found == {trips(job)}


def test_every_cut_of_a_file_is_refused_or_holds_whole_rows(phone):
    path = phone.saves("a.csv", row("09:00:00", note='He said "later", über'), row("09:01:00", outlet="K1", went_dead="K1"),
                       row("09:02:00", outlet="K3", tripped="K3", went_dead="K3", note="two\nlines"))
    data = open(path, "rb").read()
    whole = list(read_saved(data, "a.csv", []).cells.values())
    taken = []
    for cut in range(len(data)):
        saved = read_saved(data[:cut], "a.csv", faults := [])
        assert (saved is None) == bool(faults)
        if saved:
            taken.append(list(saved.cells.values()))
    assert taken == [whole[:1], whole[:2]]


def test_a_file_that_lost_cells_or_a_writer_is_refused(job, phone, enter):
    path = phone.saves("a.csv", row("09:00:00"), row("09:01:00", outlet="K1", by=""), row("", outlet="K3"))
    with open(path, "a") as file:
        file.write(f"{DAY},K4,tester\n")
    said = refused(job, enter, path)
    assert [line.partition(" Save")[0] for line in said.splitlines()] == [
        f"{path}:5: `by` blank in this row; expected `date`, `by`, `time` and `page` in every row.",
        f"{path}:6: `time` blank in this row; expected `date`, `by`, `time` and `page` in every row.",
        f"{path}:7: 3 cells in this row; expected 14, as the page writes them."]


def test_the_reader_of_the_project_judges_every_file_at_once(job, phone, enter):
    a, b = phone.saves("a.csv", row("09:00:00", outlet="K22")), phone.saves("b.csv", row("9 am"), row("09:01:00", reset="perhaps"))
    said = refused(job, enter, a, b)
    assert f"{a}:4: unknown id `K22`" in said
    assert f"{b}:4: `time: 9 am` is no time of day" in said and f"{b}:5: `reset: perhaps` is not known" in said


def test_two_writers_of_one_press_are_both_named(job, phone, enter):
    a, b = phone.saves("a.csv", row("09:00:00")), phone.saves("b.csv", row("09:05:00", by="B. Oak"), row("10:00:00", outlet="K1"))
    assert f"{b}:4: two writers of one press: `tester` at K2 on {DAY}, here by B. Oak and in {a}:4 by A. Fern" in refused(job, enter, a, b)
    assert enter(a)[0] == 0
    assert "in trip_tests.csv:13 by A. Fern" in refused(job, enter, b)


def test_a_row_that_says_something_else_at_the_same_time_is_refused(job, phone, enter):
    assert enter(phone.saves("a.csv", row("09:00:00")))[0] == 0
    b = phone.saves("b.csv", row("09:00:00", volts_after="120", went_dead=""))
    assert f"{b}:4: the row of {DAY} 09:00:00, `tester` at K2, says something else in trip_tests.csv:13" in refused(job, enter, b)


def test_a_press_done_over_with_the_clock_turned_back_is_refused(job, phone, enter):
    a = phone.saves("a.csv", row("09:00:00"), row("08:59:00", note="Done over"))
    assert f"{a}:5: this does over what line 4 says and is no later: 08:59:00 after 09:00:00" in refused(job, enter, a)


def test_places_that_changed_are_listed_and_stop_it(job, phone, enter):
    file = phone.saves("a.csv", row("09:00:00"))
    edit(job, "protection_map.yaml", "at: right of the window, fed_from: K1 load", "at: over the oven, fed_from: K1 line")
    said = refused(job, enter, file)
    assert f"{file}: K2 is now a receptacle, Kitchen, over the oven\n" in said and said.count(" is now ") == 1
    assert enter(file, "--places-checked")[0] == 0
    assert enter(file)[1].startswith("Nothing new")


def test_another_feed_and_a_new_point_are_no_other_place(job, phone, enter):
    edit(job, "protection_map.yaml", "- {id: K2, ", "- {id: N1, is: receptacle, room: Hall, at: by the stairs, fed_from: K1 load}\n"
         "      - {id: K2, ")
    edit(job, "protection_map.yaml", "window, fed_from: K1 load", "window, fed_from: K1 line")
    assert enter(phone.saves("a.csv", row("09:00:00")))[0] == 0


def test_what_is_of_another_job_or_not_of_the_page_is_refused(job, phone, enter):
    path = phone.saves("a.csv", row("09:00:00"), row("09:01:00", page="00000000", outlet="K1"))
    assert f"{path}:5: this row was tapped for other places than line 2 lists" in refused(job, enter, path)
    phone.head = phone.head.replace("# small", "# other", 1)
    path = phone.saves("a.csv", row("09:00:00"))
    assert f"{path}:1: this was tapped for the job `other`; expected `small`" in refused(job, enter, path)
    assert "does not begin as the walk page begins a file" in refused(job, enter, str(job / "trip_tests.csv"))
    assert "cannot be opened" in refused(job, enter, "nowhere.csv")


@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_a_spreadsheets_own_way_of_writing_the_old_rows_stays(job, phone, enter, end):
    old = b"\xef\xbb\xbf" + trips(job).replace(b",", b";").replace(b"\n", end).removesuffix(end)
    (job / "trip_tests.csv").write_bytes(old)
    assert enter(phone.saves("a.csv", row("09:00:00", note="one, two")))[0] == 0
    head, rest = old.split(end, 1)
    assert trips(job) == head + b";time;page" + end + rest + end + (
        f"{DAY};K2;tester;121;correct;K1;K2;;0;yes;A. Fern;one, two;09:00:00;{phone.mark}").encode() + end


def test_a_blank_that_would_repeat_a_tapped_row_is_asked_for(job, phone, enter):
    edit(job, "trip_tests.csv", "reset,by,note", "reset,by,note,time")
    edit(job, "trip_tests.csv", ",K2,tester,121,correct,K1,K2,,0,yes,,", ",K2,tester,121,correct,K1,K2,,0,yes,,,10:00")
    file = phone.saves("a.csv", row("09:00:00", date="2026-05-08", outlet="K4", pressed="none", tripped="none", went_dead="",
                                    volts_after="", reset="", by="B. Oak"))
    said = refused(job, enter, file)
    assert "trip_tests.csv:3: this row leaves `date` or `by` blank, and a tapped row goes in above it" in said
