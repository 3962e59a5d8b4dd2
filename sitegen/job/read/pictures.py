"""The name of a picture in; the same name out where it is a picture in photos/ that every browser shows."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import PurePosixPath

from ...errors import nearest
from .fields import Fields, shape_fault
from .nodes import Node
from .values import fold, listed

_PICTURES = (".jpg", ".jpeg", ".png", ".webp")


def photo_name(fields: Fields, node: Node | None, key: str, photos: Collection[str] | None) -> str | None:
    """The name of a picture that is in photos/ (None to judge none); nothing outside that folder can be named."""
    if node is None or node.blank:
        return None
    if node.text is None:
        fields.faults.append(shape_fault(node, f"`{key}`", "a text", "write one text, in quotes if it has a colon"))
        return None
    photo = fold(node.text)
    name = photo.removeprefix("photos/")
    path = PurePosixPath(name)
    if path.is_absolute() or not path.name or ".." in path.parts or "\\" in name or ":" in name:
        fields.fault(node, f"`{key}: {photo}` is no picture in the folder photos/",
                     "the name of a picture in photos/", "copy the picture there and write its name alone")
        return None
    if path.suffix.casefold() not in _PICTURES:
        fields.fault(node, f"`{key}: {photo}` is no picture that every browser shows",
                     f"a name that ends in {listed(_PICTURES, 'or')}", "save the picture in one of these forms")
        return None
    if photos is not None and name not in photos:
        fields.fault(node, f"there is no `{name}` in photos/", "the name of a picture in photos/",
                     "copy the picture there, or correct its name", nearest(name, photos))
        return None
    return name
