"""Several devices and breakers opened together, one walk, and what follows: the rules, the plan, what is left of it."""

from .house import House
from .left import Stand, not_walked, stands, still_needed
from .plan import Plan, Round, plan
from .settle import LookAgain, looks_again, looks_alone

__all__ = ["House", "LookAgain", "Plan", "Round", "Stand", "looks_again", "looks_alone", "not_walked", "plan", "stands", "still_needed"]
