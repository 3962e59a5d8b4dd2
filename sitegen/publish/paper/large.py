"""Takes the sheet of one device; gives whether its page in large print needs the smaller of two large types."""

from __future__ import annotations

from ...binder.paper.records import DeviceSheet
from ...binder.site.records import Frame
from ...binder.words import Words
from .measure import HEIGHT, SPARE, WIDTH, lines

TEXT, LEADING = 19.0, 23.75      # .large of print.css


def is_tight(sheet: DeviceSheet, frame: Frame, words: Words) -> bool:
    """Whether the page would run over in the larger type."""
    answer = sheet.place.answer
    text = lambda said, weight="regular": lines(said, TEXT, WIDTH, weight) * LEADING + 2  # noqa: E731
    beside = WIDTH - 90
    looks = " · ".join((answer.spot.looks, *answer.spot.more))
    spot = max(120, 38 + lines(answer.spot.at, 26, beside, "bold") * 30 + lines(looks, TEXT, beside) * LEADING) + 10
    stop = " ".join((words.text("stop_line.ask"), words.text("stop_line.do"), words.text("stop_line.call"),
                     frame.phone or frame.firm))
    steps = sum(lines(step, 25, WIDTH - 36) * 31.25 + 3 for step in answer.steps) + 16
    height = (44 if frame.draft else 0) + lines(answer.headline, 35, WIDTH - 12, "bold") * 39.2 + 4 + spot \
        + lines(stop, 21, WIDTH - 62, "bold") * 26.25 + 27 + steps + sum(text(hint, "bold") for hint in answer.hints) \
        + text(answer.rule, "bold") + text(words.text("call.anything")) + 44 + text(sheet.place.say) \
        + text(words.rich("call.fire", number=frame.emergency)) \
        + text(words.rich("call.shock", number=frame.emergency, panel=frame.panel))
    return height > HEIGHT - SPARE
