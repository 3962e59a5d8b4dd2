"""Takes what a meter showed; gives what it means, and how sure that is. Ohms are of a dead run, plugs out.

How sure: arithmetic, standard, common practice, or from memory. A plug-in tester's result is never one of these.
"""

from __future__ import annotations

from dataclasses import dataclass

from .copper import COOL, OHMS, drop

VOLTS = 120.0
LOOK = 0.002                          # A; common practice, no source: a leakage to look for
MAY_TRIP, MUST_TRIP = 0.004, 0.006    # A; UL 943 Class A: holds below 4 mA, opens at 6 mA or more (NEC Article 100, as reported)
CLEAN = 1_000_000.0                   # ohm; common practice, no source: a sound run reads above it, mostly over range
JOINED = 100.0                        # ohm; common practice, no source: so low that two conductors touch
LEAST, MOST = 0.006, 0.264            # A: what the trip time formula of UL 943 is for

PAIRS = {"h-g": "hot to ground", "n-g": "neutral to ground", "h-n": "hot to neutral", "hn-g": "hot and neutral together to ground"}


@dataclass(frozen=True, slots=True)
class Meaning:
    says: str
    sure: str      # arithmetic | standard | common practice | from memory
    bad: bool | None    # None: it decides nothing


@dataclass(frozen=True, slots=True)
class Metered:
    """One value of a meter."""

    at: str
    what: str        # hot to ground, ...
    value: str       # with its unit
    meaning: Meaning


def meaning(pair: str, ohms: float) -> Meaning:
    """Of one reading with a meter on a dead run; `ohms` may be infinite, the meter's over range."""
    if pair == "h-n":
        return _across(ohms)
    if pair == "n-g" and ohms < JOINED:
        return Meaning("neutral touches ground: a fault, if the device's LOAD neutral is lifted; else it is the panel's bond",
                       "common practice", True)
    if ohms > 0 and ohms >= CLEAN:
        return Meaning("nothing to see with a multimeter; that does not clear damp", "common practice", False)
    amps = VOLTS / ohms if ohms else float("inf")
    if pair == "n-g" or amps < MAY_TRIP:
        return Meaning("suspect: a sound run reads over 1 megohm, mostly over range; alone it need not trip the device",
                       "common practice", None)
    leak = f"{VOLTS:g} V over it is {amps * 1000:.3g} mA" if ohms else "hot touches ground"
    if amps >= MUST_TRIP:
        return Meaning(f"{leak}: a GFCI must trip (6 mA or more)", "arithmetic", True)
    return Meaning(f"{leak}: a GFCI may trip (from 4 mA on) and must not be counted on to hold", "arithmetic", True)


def _across(ohms: float) -> Meaning:
    if ohms < 1:
        return Meaning("a short, or a load that is still on: a breaker opens at once; a GFCI does not see it", "common practice", None)
    if ohms < CLEAN:
        return Meaning("a load or its electronics (kilohms): unplug it, or lift it, and read again", "common practice", None)
    return Meaning("nothing between them", "common practice", False)


def longest_trip(amps: float) -> float | None:
    """UL 943: the longest time a Class A device may take, in s, (20 mA / I) ** 1.43 from 6 to 264 mA (as reported); else None.

    >>> round(longest_trip(0.006), 3)
    5.594
    """
    return (0.020 / amps) ** 1.43 if LEAST <= amps <= MOST else None


def leakage(amps: float) -> Meaning:
    """Of a clamp around hot and neutral together, on what is live."""
    if amps >= MUST_TRIP:
        return Meaning("a GFCI must trip (6 mA or more)", "standard", True)
    if amps >= MAY_TRIP:
        return Meaning("a GFCI may trip (from 4 mA on) and must not be counted on to hold", "standard", True)
    if amps >= LOOK:
        return Meaning("a GFCI must hold (below 4 mA); look for it: with more loads it adds up", "common practice", None)
    return Meaning("little; a GFCI must hold (below 4 mA)", "standard", False)


def trip_time(amps: float, seconds: float) -> Meaning:
    """Of a trip that a meter timed; a plug-in tester's time is none."""
    longest = longest_trip(amps)
    if longest is None:
        return Meaning("the formula of UL 943 is for 6 to 264 mA: nothing to hold it against", "standard", None)
    says = "within that, if a meter timed it; a plug-in tester's time judges nothing" if seconds <= longest else \
        "LONGER than that: time it again with loads off; if it stays, the device is to be replaced"
    return Meaning(f"UL 943 allows at most {longest:.3g} s: {says}", "standard", seconds > longest)


ADVICE = 3.0                          # %; at the farthest outlet of a branch: an informational note of NEC 210.19, no rule


def loaded(volts: float, amps: float, idle: float | None, feet: float | None, awg: str | None) -> Meaning:
    """Of a voltage under a load; `idle`: what was read there on the same day without it; `feet`, `awg`: of the copper to it."""
    if idle is None:
        return Meaning("no voltage without the load on the same day: no drop can be told", "arithmetic", None)
    lost = idle - volts
    if lost < 0:
        return Meaning("higher than without the load: read both again", "arithmetic", None)
    percent = 100 * lost / idle
    within = f"within {ADVICE:g} %" if percent <= ADVICE else f"MORE than {ADVICE:g} %, which is advice (NEC 210.19, note), no rule"
    warm = drop(amps, feet, OHMS[awg]) if feet and awg in OHMS else None
    cable = f"; the cable as drawn loses {COOL * warm:.2f} V cool (20 C) to {warm:.2f} V hot (75 C) at {amps:g} A, a joint should lose none" \
        if warm else "; the cable is not written, or not in the table: nothing to hold it against"
    return Meaning(f"{lost:.2f} V below idle, {percent:.1f} %: {within}{cable}", "arithmetic", percent > ADVICE)


SOUND = Meaning("sound, if the volts were 250 or 500", "common practice", False)


def of_visit(what: str, state: str, value: float, unit: str, also: float | None) -> Meaning | None:
    """What stands beside a value that a visit wrote down; `also`: the milliseconds of a trip. None: nothing to hold it against."""
    said = f"{what} {state}".casefold()
    pair = next((pair for pair, words in sorted(PAIRS.items(), key=lambda one: -len(one[1])) if words in said), None)
    if unit in ("ohms", "megohms") and pair:
        ohms = value * (1e6 if unit == "megohms" else 1)
        return SOUND if "insulation" in said and ohms >= CLEAN else meaning(pair, ohms)
    if unit != "milliamps":
        return None
    if also is not None:
        return Meaning("a plug-in tester's time is no pass and no fail", "standard", None) if "tester" in said else \
            trip_time(value / 1000, also / 1000)
    return leakage(value / 1000) if "leak" in said else None
