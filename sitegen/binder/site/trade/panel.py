"""Takes the desk and a panel; gives its page for the technician: what it is, both sides as they stand, the directory of its circuits."""

from __future__ import annotations

from dataclasses import dataclass

from ....job.records import Panel
from ....protection.tree import bus_leg
from ...desk import Desk
from ...panel import Place, panel_face
from ..records import circuit_path
from ..service import also_in_neutral, kind_name


@dataclass(frozen=True, slots=True)
class Space:
    """One breaker, or a space without."""

    space: str
    breaker: str                         # "" where there is none
    says: str                            # "20 A AFCI"; of an empty space what is known of it
    serves: tuple[tuple[str, str], ...]  # number and what it serves, of each circuit


Slot = tuple[int, tuple[Space, ...]] | None     # how many spaces high, and what is in them; None: a higher one reaches down to here


@dataclass(frozen=True, slots=True)
class DirectoryLine:
    space: str
    breaker: str
    rating: str      # "20 A, 1 pole"
    kind: str
    number: str
    key: str         # folder of the circuit's page
    serves: str
    shares: str      # what must be off with it


@dataclass(frozen=True, slots=True)
class TradePanel:
    id: str
    facts: tuple[tuple[str, str], ...]
    notices: tuple[str, ...]
    rows: tuple[tuple[Slot, Slot], ...]  # left and right, row by row; () where nobody wrote how the spaces are numbered
    directory: tuple[DirectoryLine, ...]


def trade_panel(desk: Desk, panel: Panel) -> TradePanel:
    sources = dict.fromkeys((*panel.also_supplied_by, *(desk.tree.other_sources(panel.fed_from) if panel.fed_from else ())))
    notices = [desk.words.text("service.trade.sources", sources=desk.words.join(list(sources)))] if sources else []
    return TradePanel(panel.id, _facts(desk, panel), tuple(notices), _rows(desk, panel), tuple(_directory(desk, panel)))


def _facts(desk: Desk, panel: Panel) -> tuple[tuple[str, str], ...]:
    words = desk.words
    main = words.text("service.trade.not_written") if panel.main is None else panel.main.at or words.text("service.trade.main_here")
    if panel.main and panel.main.amps:
        main += f", {panel.main.amps:g} A"
    feeder = desk.job.breaker[panel.fed_from] if panel.fed_from else None
    fed = words.text("service.trade.utility") if feeder is None else words.text(
        "service.trade.fed", id=feeder.id, space=feeder.space, panel=desk.tree.panel_of[feeder.id])
    bonded = words.text("service.trade.bonded." + {True: "yes", False: "no", None: "unknown"}[panel.bonded])
    none = words.text("service.trade.not_written")
    neutrals = dict.fromkeys(filter(None, (also_in_neutral(desk, circuit.breaker) for circuit in desk.job.circuits if circuit.panel == panel.id)))
    facts = [("place", panel.at), ("fed", fed), ("main", main), ("make", panel.make or words.text("service.trade.not_written")), ("bonding", bonded)]
    if panel.spaces:
        facts.append(("spaces", words.text("service.trade.spaces", count=panel.spaces, spare=words.join(list(map(str, panel.spare))) or words.text("service.none"))))
    if all(bus_leg(breaker.space) is not None for breaker in desk.job.breakers if breaker.poles == 1 and desk.tree.panel_of[breaker.id] == panel.id):
        facts.append(("legs", words.text("service.trade.legs")))
    facts += [("neutrals", ". ".join(neutrals) or none), ("sources", words.join(list(panel.also_supplied_by)) or none)]
    return tuple((words.text(f"service.trade.facts.{name}"), value) for name, value in facts)


def _space(desk: Desk, space: str, breaker: str, empty: str) -> Space:
    if not breaker:
        return Space(space, "", empty, ())
    of = desk.job.breaker[breaker]
    serves = tuple((circuit.number, circuit.serves) for circuit in desk.by_space() if circuit.breaker == breaker)
    mark = desk.words.get(f"kinds.breakers.{of.kind.name}.mark")
    return Space(space, breaker, " ".join(filter(None, (f"{of.amps:g} A" if of.amps else "", mark))), serves)


def _rows(desk: Desk, panel: Panel) -> tuple[tuple[Slot, Slot], ...]:
    face = panel_face(desk, panel.id)
    at = {(place.row, place.left): place for place in face.places}

    def side(place: Place | None) -> Slot:
        return (place.rows, tuple(_space(desk, cell.space, cell.breaker, cell.serves) for cell in place.cells)) if place else None

    return tuple((side(at.get((row, True))), side(at.get((row, False)))) for row in range(face.rows))


def _directory(desk: Desk, panel: Panel) -> list[DirectoryLine]:
    """NEC 408.4(A), as reported: each circuit by its clear, evident and specific purpose, told apart from all others."""
    lines = []
    for circuit in desk.by_space():
        if circuit.panel == panel.id:
            breaker = desk.job.breaker[circuit.breaker]
            rating = desk.words.join([part for part in (f"{breaker.amps:g} A" if breaker.amps else "",
                                                        desk.words.text("service.trade.poles", count=breaker.poles)) if part])
            lines.append(DirectoryLine(breaker.space, breaker.id, rating, kind_name(desk.words, breaker.kind), circuit.number,
                                       circuit_path(circuit.key), circuit.serves, also_in_neutral(desk, breaker.id)))
    return lines
