"""Takes what a point is used for, in any language of the job; gives what that tells: medical, cold, an alarm, what may start to run.

The words are those that a map is likely to be written in. Common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from ...job.records import Point
from ...job.records.texts import Text

COLD = ("freezer", "fridge", "refrigerator", "furnace", "boiler", "sump",
        "congelador", "refrigerador", "nevera", "calefacción", "caldera", "bomba de sumidero")
MEDICAL = ("medical", "oxygen", "dialysis", "ventilator", "cpap", "concentrator", "nebulizer",
           "médico", "médica", "oxígeno", "diálisis", "respirador", "concentrador", "nebulizador")
ALARM = ("smoke", "alarm", "detector", "carbon monoxide", "humo", "alarma", "monóxido")
HEATING = ("furnace", "boiler", "heat pump", "central heat", "calefacción", "caldera", "bomba de calor")
MOTOR = ("disposal", "disposer", "fan", "hood", "pump", "sump", "door opener", "gate opener", "garage opener", "washer",
         "washing machine", "saw", "compressor", "triturador", "trituradora", "extractor", "ventilador", "campana", "bomba", "portón",
         "lavadora", "sierra", "compresor")
# What may turn or heat as soon as power is back; not what has to stay on: a pump, a refrigerator, a door opener.
STARTS = ("disposal", "disposer", "fan", "hood", "washer", "washing machine", "dishwasher", "dryer", "saw", "compressor", "grinder",
          "tool", "blender", "mixer", "processor", "vacuum", "trimmer", "mower", "treadmill", "furnace", "boiler", "heat", "heater",
          "heating", "range", "oven", "stove", "cooktop", "hot plate", "warming tray", "grill", "toaster", "kettle", "coffee maker",
          "iron", "triturador", "trituradora", "extractor", "ventilador", "campana", "lavadora", "lavavajillas", "lavaplatos",
          "lavatrastes", "secadora", "secador", "sierra", "taladro", "esmeril", "compresor", "herramienta", "licuadora", "batidora",
          "procesador", "aspiradora", "podadora", "caminadora", "calefacción", "calefactor", "caldera", "calor", "calentador", "estufa",
          "horno", "parrilla", "freidora", "tostadora", "hervidor", "cafetera", "plancha")
# What shows only by a turned gas knob whether it works.
SPARK = ("spark", "igniter", "ignition", "encendedor", "chispa")


def used_as(point: Point, words: tuple[str, ...]) -> bool:
    """True where the point's use, in any language of the job, has one of these words, one or more of it."""
    use = point.use or ""
    said = (use, *(use.by_language.values() if isinstance(use, Text) else ()))
    return any(text and _any_of(words).search(text.casefold()) for text in said)


@cache
def _any_of(words: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(rf"(?<!\w)(?:{'|'.join(words)})(?:e?s)?(?!\w)")
