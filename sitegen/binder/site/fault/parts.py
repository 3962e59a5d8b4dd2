"""Takes a symptom, the tree and readings; gives the parts that every sheet about a fault has: safety, observations, when to stop."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ....protection.isolate import Step, Suspect
from ....protection.isolate.meters import Metered
from ....protection.isolate.symptoms import SAFETY, STOP, Symptom
from ....protection.say import both, place
from ....protection.tree import Tree
from .records import Line, Part, bullets, numbered, plain

NO_TEST_TELLS = "no trip test can tell it. What a box shows goes before what is drawn."
READINGS = (
    "Dead, plugs out, meter proved. Hot to ground: under 30 kohm a GFCI may trip, at 20 kohm or less it must (arithmetic: 120 V at "
    "4 and 6 mA, UL 943 Class A).",
    "Neutral to ground near 0, LOAD lifted: neutral touches ground (common practice). Under 1 megohm: suspect; clean is over range "
    "(common practice).",
    "A multimeter does not clear damp: 250 or 500 V insulation tester, devices lifted, hot and neutral together to ground "
    "(common practice). Kilohms hot to neutral are electronics (common practice).",
)


def opening(symptom: Symptom) -> tuple[Part, Part]:
    """What comes before any box."""
    return Part("Safety", bullets(SAFETY)), Part("First, without opening anything", numbered(symptom.free))


def closing(tree: Tree, symptom: Symptom, metered: Iterable[Metered]) -> Iterator[Part]:
    """What was read, what readings and observations mean, and when to stop."""
    told = [f"{place(tree.job, one.at)}, {one.what} {one.value}: {one.meaning.says} ({one.meaning.sure})." for one in metered]
    if told:
        yield Part("Your readings", plain(told))
    yield Part("Readings", bullets(READINGS))
    yield Part("What it points to", bullets(
        f"{one.seen[0].upper()}{one.seen[1:]}: {one.points_to}." + (f" It does not show {one.not_shown}." if one.not_shown else "")
        + f" ({one.sure})" for one in symptom.tellings))
    yield Part("When to stop", bullets(STOP))


def also_live(tree: Tree, id: str) -> Iterator[str]:
    """What keeps a box live, or its neutral carrying current, with the breaker of this point off."""
    if shared := tree.shares_neutral(id):
        breakers = dict.fromkeys(circuit.breaker for circuit in shared)
        yield f"Circuits {both(circuit.number for circuit in shared)} share a neutral: {both(breakers)} off and locked, every hot " \
              "lifted. Another circuit's current flows in that neutral; were it open, up to 240 V would stand across loads: unplug " \
              "those of all these circuits."
    if sources := tree.other_sources(id):
        yield f"Also supplied by {both(sources)}: off and locked too."


def step_line(tree: Tree, step: Step) -> Line:
    leads = (f"cable to {lead.toward} bad: {f'step {lead.step}' if lead.step else 'it is that cable'}" for lead in step.leads)
    return Line(f"Open {place(tree.job, step.open)}. It can be in {_suspects(step.suspects)}.", f"{step.number}.",
                (*leads, f"none bad: {step.open} itself"))


def step_in_short(step: Step) -> str:
    ways = [f"toward {lead.toward} bad: {f'step {lead.step}' if lead.step else 'that cable'}" for lead in step.leads]
    return f"{step.number}. {step.open}: {'; '.join((*ways, 'none bad: ' + step.open + ' itself'))}"


def openings(number: float) -> str:
    return f"{number:g} opening{'s' * (number != 1)}"


def _suspects(suspects: Iterable[Suspect]) -> str:
    return ", ".join(one if isinstance(one, str) else f"{one[0]}-{one[1]}" for one in suspects)
