"""Random maps before trim-out, as text: takes a random generator; gives what a contractor could have written."""

from __future__ import annotations

from random import Random

HEAD = "panels:\n  - {id: P1, at: Garage}   # by the side door\ncircuits:\n"
KINDS = ("receptacle", "receptacle", "receptacle", "receptacle", "light", "switch", "junction", "appliance", "gfci receptacle",
         "faceless gfci", "afci receptacle", "dual-function receptacle")


def random_map(rng: Random) -> str:
    """One or two circuits, in either style of YAML; the second may share the neutral of the first or its breaker."""
    kind = rng.choice(["standard", "standard", "afci", "gfci"])
    text = HEAD + _circuit(rng, 5, f"breaker: {{id: B5, space: 5, amps: 20, type: {kind}}}\n")
    second = rng.choice(["none", "alone", "shares", "same breaker"])
    if second == "same breaker":
        text += _circuit(rng, 7, "breaker: B5\n")
    elif second != "none":
        shares = "    shares_neutral_with: 5\n" if second == "shares" else ""
        parts = "    neutral_parts_at: K7X0\n" if shares and rng.random() < 0.5 else ""
        text += _circuit(rng, 7, "breaker:\n      id: B7\n      space: 7\n      type: standard   # a plain one\n") + shares + parts
    return text


def _circuit(rng: Random, number: int, breaker: str) -> str:
    ids: list[tuple[str, bool]] = []
    source = "B5" if breaker == "breaker: B5\n" else f"B{number}"
    lines = []
    for n in range(rng.randint(1, 7)):
        kind = rng.choice(KINDS)
        fed_from, sides = rng.choice([(source, False), *ids, *ids[-1:] * 3])
        side = rng.choice([" line", " load"]) if sides else ""
        keys = {"id": f"K{number}X{n}", "is": kind, "room": rng.choice(["Kitchen", '"Bath, upstairs"']), "at": f"spot {n}",
                "fed_from": fed_from + side} | _more(rng, kind)
        ids.append((keys["id"], kind.split()[0] in ("gfci", "faceless", "afci", "dual-function")))
        lines.append(keys)
    if rng.random() < 0.3:
        points = f"    points: [{', '.join(_flow(keys) for keys in lines)}]\n"
    else:
        points = "    points:\n" + "".join(_entry(rng, keys) for keys in lines)
    return f"  - number: {number}\n    panel: P1\n    serves: Part {number}\n    {breaker}{points}"


def _more(rng: Random, kind: str) -> dict[str, str]:
    more = {}
    if kind in ("receptacle", "light", "appliance"):
        more |= {"needs": "gfci"} if rng.random() < 0.5 else {}
        more |= {"share": rng.choice(["alone", "never"])} if rng.random() < 0.15 else {}
    if rng.random() < 0.3:
        more["may_hold"] = rng.choice(["faceless", "none"])
    return more | ({"new_box": "yes"} if rng.random() < 0.3 else {})


def _flow(keys: dict[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {value}" for key, value in keys.items()) + "}"


def _entry(rng: Random, keys: dict[str, str]) -> str:
    if rng.random() < 0.5:
        return f"      - {_flow(keys)}  # seen\n"
    first, *rest = (f"{key}: {value}" for key, value in keys.items())
    return f"      # {keys['id']}\n      - {first}\n" + "".join(f"        {line}\n" for line in rest)
