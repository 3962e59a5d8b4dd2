"""Each rule on its cases: one file that fires and one that does not, in the editions that it names; a missing key is asked for.

What a file leaves out is filled in: one panel, `serves`, room and spot. Sources stand in the files and in table.py.
"""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import yaml
from house import CASES

import sitegen.job
from sitegen.job import read_job
from sitegen.job.read.keys import Keys
from sitegen.protection.evidence import Evidence
from sitegen.protection.proof import Proof
from sitegen.protection.rules.code.book import EDITIONS
from sitegen.protection.rules.code.judge import Judged, judged
from sitegen.protection.rules.code.table import BY_NAME, RULES
from sitegen.protection.tree import Tree

FILES = sorted((CASES / "code").glob("*.yaml"))
HEAD = "date,outlet,pressed,volts,wiring,tripped,went_dead,stayed_live,volts_after,reset,by,note"


def proof_of(folder: Path, written: dict[str, Any], edition: int, amendments: Any = "none") -> Proof:
    circuits = [{"panel": "P1", "serves": f"Part {circuit['number']}", **circuit,
                 "points": [{"room": "Kitchen", "at": f"spot {point['id']}", **point} for point in circuit["points"]]} for circuit in written["circuits"]]
    folder.mkdir(parents=True)
    (folder / "protection_map.yaml").write_text(yaml.safe_dump(
        {"panels": written.get("panels", [{"id": "P1", "at": "Garage"}]), "rooms": written.get("rooms", []), "circuits": circuits}, sort_keys=False), "utf-8")
    labels = {"labels": {"wanted": written["labels"]}} if "labels" in written else {}
    (folder / "job.yaml").write_text(yaml.safe_dump(
        {"id": "x", "title": "X", "code": {"book": "NEC", "edition": edition, "amendments": amendments}, **labels}), "utf-8")
    (folder / "trip_tests.csv").write_text("\n".join([HEAD, *written.get("rows", ())]) + "\n", "utf-8")
    return Proof(Evidence(Tree(read_job(folder))))


def of_rule(proof: Proof, name: str) -> Judged:
    [found] = [one for one in judged(proof) if one.rule.name == name]
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_case(path: Path, tmp_path: Path) -> None:
    written = yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)
    job = proof_of(tmp_path / "job", written, int(written["editions"][0]), written.get("amendments", "none")).tree.job
    for edition in written["editions"]:
        of_then = replace(job, file=replace(job.file, code=replace(job.file.code, edition=edition)))
        one = of_rule(Proof(Evidence(Tree(of_then))), path.stem.partition(".")[0])
        told = [{"level": found.level, "points": " ".join(found.points), "section": found.section} for found in one.against]
        assert told == written.get("against", []), edition
        assert {lacks.key: " ".join(lacks.points) for lacks in one.lacks} == written.get("lacks", {}), edition
        assert [" ".join(beyond.points) for beyond in one.beyond] == written.get("beyond", []), edition
        assert [" ".join((told.by, *told.points)) for told in one.elsewhere] == written.get("elsewhere", []), edition


def test_every_rule_has_a_case_that_fires_and_one_that_does_not() -> None:
    for rule in RULES:
        names = {path.stem for path in FILES}
        assert {f"{rule.name}.fires", f"{rule.name}.silent"} <= names, rule.name
    assert {path.stem.partition(".")[0] for path in FILES} == set(BY_NAME)
    assert {rule.number for rule in RULES} == set(range(1, 32))


def test_every_row_says_its_editions_and_sections() -> None:
    for rule in RULES:
        assert set(rule.sections) <= set(EDITIONS) and rule.needs and rule.level in ("stop", "fix", "know"), rule.name
        assert rule.section(2026) is not None and not rule.says.endswith(".")


def test_what_a_rule_needs_and_asks_for_are_keys_that_can_be_written() -> None:
    known = {key.name for module in pkgutil.walk_packages(sitegen.job.__path__, "sitegen.job.")
             for keys in vars(importlib.import_module(module.name)).values() if isinstance(keys, Keys) for key in keys.rows}
    asked = {key.partition(":")[0] for path in FILES for key in yaml.safe_load(path.read_text("utf-8")).get("lacks", {})}
    assert {key for rule in RULES for key in rule.needs} | asked <= known


def test_a_remedy_for_a_shared_neutral_says_from_where_on_one_pole_will_do(tmp_path: Path) -> None:
    """Ahead of the box where the neutrals part a device has two poles; behind it each cable has its own (300.13(B) apart, from memory)."""
    circuits = [{"number": str(number), "work": "new", "breaker": {"id": f"B{number}", "space": str(number), "amps": "20", "type": "standard"},
                 "shares_neutral_with": str(12 - number), "points": [
                     {"id": f"K{number}", "is": "receptacle", "fed_from": f"B{number}", "place": "countertop", "room": f"Kitchen {number}"},
                     {"id": f"D{number}", "is": "receptacle", "fed_from": f"K{number}", "place": "countertop", "room": f"Diner {number}"}],
                 **({"neutral_parts_at": "K5"} if number == 5 else {})} for number in (5, 7)]
    says = {found.points: found.do for found in of_rule(proof_of(tmp_path / "job", {"circuits": circuits}, 2020), "gfci-kitchen").against}
    assert says["K5",].endswith("Circuit 5 shares its neutral: a breaker there is two-pole, listed for a shared neutral. Behind K5, where the neutrals "
                                "part, a device of one pole will do.")
    assert says["K7",].endswith("Circuit 7 shares its neutral: a breaker there is two-pole, listed for a shared neutral.")


def test_doors_that_are_drawn_to_the_outdoors_are_named(tmp_path: Path) -> None:
    """Not those to a room, and not one for vehicles (210.70(A), from memory)."""
    written = yaml.load((CASES / "code" / "lights.door.silent.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)
    [attic, doors] = of_rule(proof_of(tmp_path / "job", written, 2020), "lights").beyond
    assert attic.why == "circuit 7 says `Attic light`, and no light on it is on the map"
    assert doors.why == ("drawn are doors to no room of the map, Garage to side yard, and rooms that are not drawn may have more; look whether each "
                         "has a light: on the map is L2 (spot L2)")


def test_what_a_smaller_breaker_makes_too_large_is_told(tmp_path: Path) -> None:
    """A 20 A receptacle on what becomes a 15 A circuit: 210.21(B), as reported."""
    circuit = {"number": "1", "work": "existing", "breaker": {"id": "B1", "space": "1", "amps": "20", "type": "standard"}, "wire": {"awg": "14", "metal": "copper"},
               "points": [{"id": "T2", "is": "gfci receptacle", "fed_from": "B1", "device": {"rating": "20 A 125 V"}}, {"id": "T3", "is": "receptacle", "fed_from": "T2 load"}]}
    [told] = of_rule(proof_of(tmp_path / "job", {"circuits": [circuit]}, 2020), "wire-too-small").against
    assert told.do.endswith("put a 15 A breaker in. Then T2 is too large for it (210.21(B)): put in 15 A.")


def test_existing_wiring_of_which_a_key_is_not_written_is_not_counted_as_judged(tmp_path: Path) -> None:
    """Of an old box nothing is asked, and nothing of the new ones is written: the rule was judged nowhere."""
    circuit = {"number": "1", "work": "new", "breaker": {"id": "B1", "space": "1", "amps": "15", "type": "standard"},
               "points": [{"id": "E1", "is": "receptacle", "fed_from": "B1", "work": "existing"}, {"id": "E2", "is": "receptacle", "fed_from": "E1"}]}
    proof = proof_of(tmp_path / "job", {"circuits": [circuit]}, 2020)
    for name in ("box-fill", "receptacle-rating", "tamper-resistant"):
        assert of_rule(proof, name).nowhere and of_rule(proof, name).concerns == {"E2"}, name
