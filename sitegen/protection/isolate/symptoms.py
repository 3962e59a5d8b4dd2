"""What a technician does at each symptom, in the order of cost, and what an observation there points to and does not show.

Data alone, in the trade's words. Each observation says how sure it is: standard; common practice, which has no source; or SEEN,
where the observation was met in the field and what it points to was concluded.
"""

from __future__ import annotations

from dataclasses import dataclass

SAFETY = (
    "For a licensed electrician. Wet, hot or scorched, or a smell: stop, leave the breaker off, and find out why first.",
    "Breaker OFF, locked and tagged. Prove the meter on a live source, test hot to neutral, hot to ground and neutral to ground, "
    "prove the meter again. A button that is out is not proof that it is dead.",
    "Ohms only on what is dead. A generator, battery or solar that may supply it is off and locked too.",
    "One RESET for one change, never to see whether the fault is still there (29 CFR 1910.334(b)(2)). Energise once, at the end.",
    "A standard breaker opens the hot only. While a GFCI is closed, neutral to ground reads the panel's bond and means nothing: "
    "lift its LOAD hot and neutral.",
    "A wall switch that is off leaves the neutral joined. A hard-wired thing that is off is not disconnected.",
    "A box that shows anything else than the record: stop, trace it again, correct the map, and plan anew.",
    "One fault is assumed. With two, follow each cable that reads bad.",
)

STOP = (
    "Nothing reads bad anywhere: the device itself, or a load. Do not close a box on a guess: read each cable once more.",
    "What reads bad is mended and the part still reads bad: read again at every open box, and go on from there.",
    "Each cable is read three times; two of three count. A cable is at fault only when it reads bad with both ends lifted.",
    "All put back: one RESET, then the device's own TEST, then every outlet it turns off. Write the visit into the record.",
)


SEEN = "seen in the field, the rest concluded"


@dataclass(frozen=True, slots=True)
class Telling:
    """One observation."""

    seen: str
    points_to: str
    not_shown: str      # what it does not show; "" where nothing is to be warned of
    sure: str


@dataclass(frozen=True, slots=True)
class Symptom:
    name: str                       # as --symptom has it
    title: str
    free: tuple[str, ...]           # costs no opening
    by: str                         # plan: boxes by the plan; order: by suspicion; dead: by what is dead; device: it alone; feed: as fed
    openings: tuple[str, ...]
    tellings: tuple[Telling, ...]


_RESET = Telling("the device resets and holds with all loads off, and opens when one fixed load goes on",
                 "that load's neutral is not on LOAD, or it leaks", "an overload", SEEN)
_GROUNDED = Telling("an AFCI trips and an ordinary breaker holds; neutral to ground reads closed with the circuit lifted",
                    "neutral touches ground in one box", "a bad AFCI", "common practice")
_SERIES = Telling("a real leak, or a plug-in tester at the end of devices in series: any or all of them open", "normal",
                  "that the fault is at the one that opened", "common practice")

TRIPS = Symptom(
    "trips", "trips and will not hold",
    ("Ask what was changed, and how often RESET was pressed already.",
     "What still has power ahead of the device? Then the way to it from the panel is good.",
     "Unplug everything on the list; wall switches off and left so; devices behind it tripped. One RESET. It holds: a load, what "
     "hangs behind a switch that is off, or what is behind an inner device: one at a time, there by its own TEST.",
     "Lock out, prove dead. Ohms in the slots, hot to ground and neutral to ground, on both sides of the middle."),
    "plan",
    ("Open as planned, a part read from its box: nothing is opened that a reading has cleared.",
     "Lift LOAD of the device; that is compulsory before neutral to ground means anything."),
    (_RESET, _SERIES,
     Telling("it opens as soon as the other hot of a three-wire run carries current", "a shared neutral beyond LOAD", "a bad device",
             "standard"),
     _GROUNDED,
     Telling("TEST on the last of devices in series: only that one opens", "normal", "that the devices before it are bad", SEEN)))

NOW_AND_THEN = Symptom(
    "now-and-then", "trips now and then, in rain, or since something was added",
    ("Which one tripped, breaker or device? Take the list of that one: a leak of milliamps trips no standard breaker.",
     "Write down each time: which load, hour, weather. Heating and wet loads one by one.",
     "Own TEST and a walk: what is dead and not on the list is new. Count the cables in the boxes against the record; look at covers.",
     "Clamp hot and neutral together: 4 to 6 mA opens a GFCI; look for it from 2 mA on (common practice).",
     "Insulation tester, 250 or 500 V, devices and loads lifted, hot and neutral together to ground: only dead, never in the wet."),
    "order",
    ("No reading is bad while the fault is away, so an opening tells only of its own box: in the order of suspicion for its reach.",
     "Or leave a part off, capped and marked: with no trip for three times the mean time between trips, 5 % doubt is left "
     "(-ln 0.05 = 3.0, arithmetic). Do not wait with covers off."),
    (Telling("it trips only in rain or in the damp", "an outdoor or damp point on the device's list", "a bad device",
             "common practice"), _RESET, _SERIES))

PART_DEAD = Symptom(
    "part-dead", "part stays dead and nothing tripped",
    ("Every wall switch on; RESET on every device that the trace names, once.",
     "The last that has power and the first that is dead are the only two boxes, where nothing hangs between them.",
     "Slot to slot with ohms, all dead: hot, neutral and ground each by itself tell which conductor is open."),
    "dead",
    ("Open where the plan says; read each conductor to the boxes on either side.",),
    (Telling("the device resets, its own slots are live, all outlets on its LOAD are dead",
             "an open between its LOAD terminals and the first outlet", "a trip", "common practice"),
     Telling("some outlets on LOAD are live, later ones dead", "the feed-through at the last live or the first dead point",
             "a fault in the device", "common practice"),
     Telling("hot to neutral 0 V, hot to ground 120 V, neutral to ground 120 V with something plugged in", "an open neutral upstream",
             "hot and ground reversed", SEEN),
     Telling("the tester's reading changes when a load is plugged in nearby", "an open ground, or an open neutral",
             "hot and neutral reversed", "common practice")))

TEST_DEAD = Symptom(
    "test-dead", "TEST does nothing, or does not turn off what it should",
    ("Loads out of use first: freezer, medical, pump. The outlet may be without protection; tell the people of the house.",
     "A lamp in the device's own slots and in each outlet that it should turn off, then TEST. Judge by the lamp, not by the button.",
     'A device needs power to trip or to reset: without any, see the list "will not reset".'),
    "device",
    ("Device opened dead: LINE and LOAD as the record has them, each cable; a wire past it; its age and date code.",),
    (Telling("TEST opens it, its own slots go dead, every outlet on LOAD goes dead", "wired as drawn", "that there is a ground",
             "common practice"),
     Telling("TEST opens it, its own slots stay live, what is downstream dies",
             "line and load exchanged: a device from before 2015, or one put in again", "hot and neutral exchanged", "standard"),
     Telling("TEST opens it, its own slots and all downstream stay live", "welded contacts; the device protects nothing",
             "a wrong map", SEEN),
     Telling("reads correct, a plug-in tester trips nothing, and it is dead on the device's own TEST",
             "neutral joined to the ground pin at the outlet", "that it is unprotected, or that it is grounded", SEEN),
     Telling("TEST: own slots dead, an outlet of the list stays live", "that outlet is on LINE, or on another feed", "a bad device",
             SEEN),
     Telling("a plug-in tester at an outlet with a ground, and nothing opens", "it is not behind that device, or the device is bad",
             "", "common practice"),
     Telling("a plug-in tester at an outlet without a ground, and nothing opens", "nothing: its current has no path",
             "that the outlet is unprotected", "standard")))

NO_RESET = Symptom(
    "no-reset", "will not reset",
    ('Is there power at its LINE? Points that are not on its LOAD dead too: no supply; go to what is before it, list "part stays dead".',
     "Just replaced: LINE and LOAD exchanged, which a device made since 2015 refuses.",
     'Then as in the list "trips and will not hold": unplug, switches off, one RESET.'),
    "plan",
    ("All LOAD lifted and it does not reset on a proved supply: the device. It resets: the fault is behind it, by the plan.",),
    (Telling("it will not reset, and points that are not on its LOAD are dead", "no supply: an open, or a device off, before both",
             "a bad device", SEEN),
     Telling("a new device, no power, no reset, just replaced", "line and load exchanged with lock-out, or no supply",
             "a defective device", "standard")))

AT_ONCE = Symptom(
    "at-once", "the breaker goes off at once",
    ("No further closing. Everything unplugged, hard-wired things disconnected or off at their own switch; GFCI devices out.",
     "Wall switches ON for the readings: what hangs behind one that is off reads good whatever it is. Lamps out, or expect the kilohms "
     "of electronics.",
     "Dead: hot to neutral, hot to ground and neutral to ground at the breaker, the circuit's hot and neutral lifted."),
    "plan",
    ("Halve it dead, by the plan; hot to neutral is read beside hot to ground and neutral to ground. Energise once, when it is mended.",),
    (Telling("hot to neutral reads near 0, loads out", "a short between them, or a load that is still on", "a leak to ground",
             "common practice"),
     Telling("hot to ground reads near 0", "hot touches ground or a metal box", "an overload", "common practice"), _GROUNDED, _SERIES))

DIM = Symptom(
    "dim", "lights dim or flicker when a load runs",
    ("Does anything grow brighter or run faster meanwhile? A neutral may be open: if it is dry and safe there, main OFF; the power "
     "company first.",
     "Which load, on which breaker, with how many amps? Does the light dim for as long as it runs, or only while it starts?",
     "Volts at the light and at the load, idle and with the load on, on one day; then both legs to neutral at the main, by who may. "
     "Each outlet of the circuit in feed order: the first that falls tells the joint before it."),
    "feed",
    ("The load is on another circuit: no box of this one; the panel, its feeder or the service. Joints there are the licensed "
     "electrician's, those ahead of the main the power company's.",
     "The load is on this circuit, and the volts fall by more than its cable loses: the joint before the first outlet that falls."),
    (Telling("one leg to neutral falls and the other rises, while leg to leg stays", "an open or loose neutral of the service, the feeder "
             "or a shared neutral", "a bad breaker", "common practice"),
     Telling("both legs fall together", "what feeds the panel, or a load of 240 V", "a fault of this circuit", "common practice"),
     Telling("one leg alone falls, on every circuit of it", "a joint of that leg at the main, the meter or the service",
             "a fault of this circuit", "common practice"),
     Telling("this circuit alone falls, and by more than its cable loses", "a joint of this circuit, its breaker's included",
             "an overload", "common practice"),
     Telling("it dims only while a motor starts, and the volts come back", "starting current", "a bad joint", "common practice")))

SYMPTOMS = {one.name: one for one in (TRIPS, NOW_AND_THEN, PART_DEAD, TEST_DEAD, NO_RESET, AT_ONCE, DIM)}
