"""Which pages to try where the same elements stand on hundreds."""

from collections import Counter
from pathlib import Path

from house import parsed


def kinds(path: Path) -> set[object]:
    """What can set a page apart from others but for its words: each element in its parent, by name, class and attributes, whether it
    has text, stands alone or again; and each heading by the one before it."""
    met: Counter[object] = Counter()
    before = [""]

    def meet(node, parent):
        mine = (node.tag, node.get("class"), *sorted(node.attrib), bool("".join(node.itertext()).strip()))
        met[parent, mine] += 1
        if node.tag in ("h1", "h2", "h3", "h4"):
            met[before[-1], node.tag] += 1
            before.append(node.tag)
        for child in node:
            if isinstance(child.tag, str):
                meet(child, mine)
    root = parsed(path)
    meet(root, root.get("lang"))
    return set(met) | {(kind, "again") for kind, count in met.items() if count > 1}


def of_every_kind(pages: list[Path]) -> list[Path]:
    """Pages that together hold every kind that any of them holds, the richest first."""
    chosen, seen = [], set()
    for path, held in sorted(((path, kinds(path)) for path in pages), key=lambda pair: -len(pair[1])):
        if not held <= seen:
            chosen.append(path)
            seen |= held
    return chosen
