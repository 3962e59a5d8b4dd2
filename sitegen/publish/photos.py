"""Takes the photos that the map names; gives them straightened, scaled and without any metadata, ready for the site."""

from __future__ import annotations

import io
import warnings
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageOps

from ..errors import CallError
from ..job.read.limits import PHOTO
from ..job.records import Job

LONGEST = 960   # px: sharp on a phone, light on a slow network
FOLDER = "place-pictures"


@dataclass(frozen=True, slots=True)
class Photo:
    """One photo as the site holds it."""

    path: str    # below site/
    width: int   # px
    height: int
    content: bytes


def make_photos(job: Job, folder: Path) -> Mapping[str, Photo]:
    """Point -> its photo, from photos/ of the job folder.

    Raises CallError where a file is no picture that can be opened, with the line that names it.
    """
    return {point.id: _photo(point.id, folder / "photos" / point.photo, str(point.where))
            for point in job.points if point.photo}


def _photo(id: str, path: Path, where: str) -> Photo:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(path) as opened:
                if opened.width * opened.height > PHOTO.most:   # known before a pixel is decoded
                    raise ValueError(f"{opened.width * opened.height:,} {PHOTO.of}, at most {PHOTO.most:,}")
                picture = ImageOps.exif_transpose(opened).convert("RGB")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise CallError(f"{where}: photos/{path.name} is no picture that can be opened ({error}); expected a JPEG, PNG or WebP "
                        f"of a usual size. Save it again, or take `photo` out.") from None
    picture.thumbnail((LONGEST, LONGEST))
    bare = Image.new("RGB", picture.size)  # the pixels alone: no place, no time, no camera
    bare.paste(picture)
    file = io.BytesIO()
    bare.save(file, "JPEG", quality=80, optimize=True)
    return Photo(f"{FOLDER}/{id}.jpg", *bare.size, file.getvalue())
