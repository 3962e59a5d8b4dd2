"""What a cable loses: ohms of solid copper, the volts that a current costs on it."""

# Solid copper, uncoated, ohm in 1000 ft at 75 degrees C: NEC Chapter 9 Table 8 (from memory: sure). House cable is solid.
OHMS = {"14": 3.07, "12": 1.93, "10": 1.21, "8": 0.764}
COOL = 0.82     # of that at 20 degrees C (as reported)


def drop(amps: float, feet: float, ohms: float) -> float:
    """Volts lost on a cable so long one way, out and back; `ohms`: of 1000 ft of one conductor.

    >>> round(drop(16, 100, OHMS["12"]), 3)
    6.176
    """
    return 2 * feet * ohms / 1000 * amps
