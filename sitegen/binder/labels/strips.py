"""Takes the desk; gives strips of text without a code: for plates, for a panel's directory, and the marks that a code demands."""

from __future__ import annotations

from ...job.records import Breaker
from ..desk import Desk
from ..desk.words import Piece, Rich
from .outlet import first_act, outlet_words, where_to
from .records import Strip

PLATE_MM = (66.0, 7.0)      # the rim of a plate below or above its slots is 7 mm and more (page design)
BREAKER_MM = (90.0, 9.0)    # a line of a panel's directory; two lines of 8 points stand in it
# NEC 406.4(D)(2) (406.3(D)(3) in 2008), as reported: the marks of a receptacle without an equipment ground, word for
# word and in no other language. Blanks that do not break keep each mark on one line.
NO_GROUND = "No\u00a0Equipment\u00a0Ground"
GFCI_PROTECTED = "GFCI\u00a0Protected"


def plate_strip(desk: Desk, outlet: str) -> Strip:
    """The words of the outlet label on one line where they fit; on two where a breaker has to be pushed OFF first."""
    first, act, shown = first_act(desk, outlet)
    where, at = where_to(desk, first)
    ask = Rich((Piece(f"{outlet_words(desk, outlet)[0]} "), *act))
    doubt = "" if shown else f" ({desk.words.text('label.doubt_short')})"
    offers: list[tuple[Rich, ...]]
    if desk.tree.kind(first).is_breaker and desk.tree.kind(first).opens:
        then = desk.words.text("label.then_on" if desk.tree.kind(first).stops_shock else "label.then_on_once")
        offers = [(ask, Rich((Piece(f"{then}, {where}, {at}{doubt}"),)))] if at else []
        offers.append((ask, Rich((Piece(f"{then}, {where}{doubt}"),))))
        offers.append((ask, Rich((Piece(f"{then}{doubt}"),))))      # the doubt is never what is left out
    else:
        offers = [(Rich((*ask, Piece(f" {where}, {at}{doubt}"))),)] if at else []
        offers += [(Rich((*ask, Piece(f" {where}{doubt}"))),), (ask, Rich((Piece(f"{where}{doubt}"),))),
                   (act, Rich((Piece(f"{where}{doubt}"),)))]
    return Strip("plate", outlet, outlet, "", tuple(offers), "", desk.draft_mark, *PLATE_MM, first)


def breaker_strip(desk: Desk, breaker: Breaker) -> Strip:
    """A line of the directory: what the circuit serves in words that stand alone, and what kind of breaker it is."""
    served = "; ".join(circuit.serves for circuit in desk.job.circuits if circuit.breaker == breaker.id)
    tried = "not_traced" if desk.evidence.handle(breaker.id) else "not_tried"
    text = served if desk.claims.breaker_tried(breaker.id) else desk.words.text(f"label.{tried}", serves=served)
    return Strip("breaker", breaker.id, breaker.id, breaker.space, ((Rich((Piece(text),)),),),
                 desk.words.get(f"kinds.breakers.{breaker.kind.name}.mark"), desk.draft_mark, *BREAKER_MM)


def ground_mark(desk: Desk, outlet: str) -> Strip:
    """The marks of a receptacle without an equipment ground; a GFCI receptacle says itself that it is one."""
    itself = desk.point(outlet).kind.stops_shock
    guarded = not itself and desk.proof.proved_by(outlet)
    text = f"{GFCI_PROTECTED} \u00b7 {NO_GROUND}" if guarded else NO_GROUND
    return Strip("ground", outlet, outlet, "", ((Rich((Piece(text),)),),), "", desk.draft_mark, *PLATE_MM)
