"""What visits.yaml says, read as it is written; the faults stand in the reading cases."""

import shutil
from datetime import date, time

from house import READING

from sitegen.job import in_language, read_job
from sitegen.job.language import untranslated
from sitegen.job.records import Feed

VISITS = """
- date: 2026-07-14
  time: "14:30"
  by: D. Verrill
  why: The outlet kept popping K1, and the coffee maker too
  found: Water in the box of K2
  done:
    - {refed: K2, was: B5}
    - {replaced: K1, was: {model: GR20-W, date code: 26W07}}
    - {opened: k3, note: Splice made up again}
    - {removed: K9, was: k3}
    - {corrected: S1, was: K1 load, note: The sketch was wrong, no wire was touched}
  readings:
    - {at: K1, what: hot to ground, ohms: 22000, state: load lifted}
  cause: Water past the cover of K2
  minutes: 40
  left_to_do: [A cover that closes over a plug at K2]
  photos: [photos/k1.jpg]
"""


def test_every_key_is_read(tmp_path):
    folder = shutil.copytree(READING / "sound", tmp_path / "job")
    (folder / "visits.yaml").write_text(VISITS, "utf-8")
    map = folder / "protection_map.yaml"
    map.write_text(map.read_text("utf-8") + "removed:\n  - {id: K9, note: gone with the island}\n", "utf-8")
    visit, = read_job(folder).visits
    assert (visit.date, visit.time, visit.by, visit.minutes) == (date(2026, 7, 14), time(14, 30), "D. Verrill", 40)
    assert visit.why == "The outlet kept popping K1, and the coffee maker too"
    assert [(done.what, done.id, done.was) for done in visit.done] == [
        ("refed", "K2", Feed("B5")), ("replaced", "K1", None), ("opened", "K3", None), ("removed", "K9", Feed("K3")),
        ("corrected", "S1", Feed("K1", "load"))]
    assert dict(visit.done[1].old_device) == {"model": "GR20-W", "date code": "26W07"}
    assert visit.done[4].note == "The sketch was wrong, no wire was touched"
    reading, = visit.readings
    assert (reading.at, reading.what, reading.value, reading.unit, reading.state) == \
        ("K1", "hot to ground", 22000, "ohms", "load lifted")
    assert visit.left_to_do == ("A cover that closes over a plug at K2",) and visit.photos == ("k1.jpg",)


def test_old_rows_may_speak_of_what_is_gone(read, folder):
    """An id under `removed` may stand in every cell of a row; whether the row counts is for the reasoning."""
    map = (folder / "protection_map.yaml").read_text("utf-8") + "removed:\n  - {id: K9}\n"
    job = read(map=map, trips="date,outlet,pressed,tripped,went_dead,stayed_live,time\n"
                              "2026-05-14,K9,device,K9,K9 K1,K2,8:05\n2026-05-14,K2,tester,K1,K2 K9,,\n")
    assert [(row.outlet, row.tripped, row.went_dead) for row in job.tests] == [
        ("K9", ("K9",), ("K9", "K1")), ("K2", ("K1",), ("K2", "K9"))]
    assert [row.time for row in job.tests] == [time(8, 5), None]


def test_visits_are_between_electricians_and_lack_no_language(read, folder):
    (folder / "visits.yaml").write_text("- {date: 2026-07-14, why: It popped, done: [{opened: K1, note: Wet}]}\n", "utf-8")
    job = read(job=(folder / "job.yaml").read_text("utf-8").replace("languages: [en]", "languages: [en, es]"))
    assert "visit" not in {lack.what for lack in untranslated(job)}
    assert in_language(job, "es").visits == job.visits
