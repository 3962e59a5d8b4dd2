"""`begin --page`: where it writes, what it leaves alone; its words; and a file of it that was cut off on its way."""

import csv
import io
import re

from house import ROOT

from sitegen.cli import main
from sitegen.commands.begin.spreadsheet import PAGE_COLUMNS, PAGE_HEADER
from sitegen.job import read_job
from sitegen.publish.theme import open_theme

SCRIPTS = "\n".join(path.read_text("utf-8") for path in sorted((ROOT / "themes" / "lamplight" / "script" / "rough").iterdir()))


def test_the_page_is_written_alike_each_time_and_no_folder_is_made(tmp_path, capsys):
    page = tmp_path / "page.html"
    assert main(["begin", str(tmp_path / "alder court"), "--page", str(page)]) == 0
    first = page.read_bytes()
    assert "sitegen begin" in capsys.readouterr().out and not (tmp_path / "alder court").exists()
    assert main(["begin", str(tmp_path / "alder court"), "--page", str(page)]) == 0
    assert page.read_bytes() == first and str(tmp_path).encode() not in first and b'"job":"alder-court"' in first


def test_what_is_there_is_left_alone(tmp_path, capsys):
    (tmp_path / "mine.html").write_text("mine")
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("mine")
    for call in (["new", "--page", "mine.html"], ["full", "--page", "page.html"], ["new", "--page", "none/page.html"],
                 ["new", "--page", "page.html", "--like", "full"]):
        assert main(["begin", str(tmp_path / call[0]), call[1], str(tmp_path / call[2]), *call[3:]]) == 2
        assert "Traceback" not in capsys.readouterr().err
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["full", "mine.html", "mine.txt"]


def test_every_word_that_the_scripts_ask_for_is_there_and_none_is_dead():
    words = open_theme().words("en").get("rough.page")
    known = {f"{name}.{part}" if part else name for name, node in words.items() for part in (node if isinstance(node, dict) else [""])}
    asked = set(re.findall(r'(?:tell|plain)\("([\w.-]+)"', SCRIPTS))
    put_together = {name.split(".")[0] for name in re.findall(r'"([\w.]+\.)"', SCRIPTS)} | set(re.findall(r"words\.(\w+)", SCRIPTS))
    assert {name for name in asked if name not in known and not name.endswith(".")} == set()
    assert {name for name in known if f'"{name}"' not in SCRIPTS and name.split(".")[0] not in put_together} == set()


ROWS = [{"circuit": "5", "panel": "P1", "panel_at": "Garage", "breaker": "B5", "space": "5", "poles": "1", "amps": "20", "type": "afci", "id": id,
         "is": kind, "room": "Kitchen", "at": at, "fed_from": feed} for id, kind, at, feed in (
             ("K12", "gfci receptacle", "left, by the \"new\" sink", "B5"), ("K2", "receptacle", "über", "K12 load"), ("K3", "receptacle", "end", "K2"))]


def test_every_cut_of_the_file_is_refused_or_holds_whole_rows(tmp_path, capsys):
    out = io.StringIO()
    csv.DictWriter(out, PAGE_COLUMNS, restval="", lineterminator="\n").writerows(ROWS)
    data, file, whole = (PAGE_HEADER + out.getvalue()).encode(), tmp_path / "points.csv", []
    for cut in (*range(0, len(PAGE_HEADER), 10), *range(len(PAGE_HEADER), len(data) + 1)):
        file.write_bytes(data[:cut])
        if main(["begin", str(tmp_path / f"job{cut}"), "--from", str(file)]) == 0:
            whole.append({point.id: str(point.feed) for point in read_job(tmp_path / f"job{cut}").points})
    assert whole == [{"K12": "B5"}, {"K12": "B5", "K2": "K12 load"}, {"K12": "B5", "K2": "K12 load", "K3": "K2"}]


def test_device_data_of_a_sheet_goes_into_the_map(tmp_path):
    file = tmp_path / "points.csv"
    file.write_text("id,is,room,at,fed_from,circuit,make,date code,device torque\nK1,gfci receptacle,Hall,door,panel,5,Tarnwick,26W07,\"14, no. 3\"\n")
    assert main(["begin", str(tmp_path / "job"), "--from", str(file)]) == 0
    assert dict(read_job(tmp_path / "job").point["K1"].device) == {"make": "Tarnwick", "date code": "26W07", "torque": "14, no. 3"}
