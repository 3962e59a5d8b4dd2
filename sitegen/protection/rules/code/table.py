"""The table of rules, one row a rule. Sections are NEC (NFPA 70), by the edition from which they hold.

How sure: `sure=False` is from memory. The rest is as public pages report it; the book itself was not read. Nothing here is the text of
the book, and 2026 is taken as 2023 where nothing else is written.
"""

from __future__ import annotations

from . import circuits, outlets, rooms, shock, spacing
from .rule import Rule

_A = "210.8(A)"

RULES = (
    Rule("gfci-wet-places", 1, "receptacles in bathrooms, garages, accessory buildings, outdoors, crawl spaces, basements and boathouses are behind a Class A GFCI",
         {2014: f"{_A}(1) to (5), (8)", 2023: f"{_A}(1) to (5), (9)"}, "stop", ("place", "finished", "voltage"),
         shock.unguarded("gfci-wet-places"), by_place=True),
    Rule("gfci-kitchen", 2, "kitchen receptacles: those that serve the countertop, from 2023 all of them",
         {2014: f"{_A}(6)", 2023: f"{_A}(6), (7)"}, "stop", ("place",), shock.unguarded("gfci-kitchen")),
    Rule("gfci-near-water", 3, "receptacles within 6 ft of a sink, tub or shower",
         {2014: f"{_A}(7), (9)", 2023: f"{_A}(8), (10)"}, "stop", ("feet_to_sink", "feet_to_tub"), shock.unguarded("gfci-near-water")),
    Rule("gfci-laundry", 4, "receptacles of laundry areas", {2014: f"{_A}(10)", 2023: f"{_A}(11)"}, "stop", ("place", "voltage"),
         shock.unguarded("gfci-laundry")),
    Rule("gfci-appliance", 5, "dishwashers; from 2020 sump pumps; from 2023 ranges, ovens, cooktops, dryers and microwave ovens, hard-wired too",
         {2014: "210.8(D)", 2020: "210.8(D) with 422.5(A)", 2023: "210.8(D)"}, "stop", ("use",), shock.unguarded("gfci-appliance")),
    Rule("gfci-outdoor-appliance", 6, "hard-wired outlets outdoors, lights apart; from 2023 in garages, accessory buildings and boathouses too",
         {2020: "210.8(F)"}, "fix", ("place",), shock.outdoor_appliance, sure=False),
    Rule("gfci-in-reach", 7, "the buttons of a GFCI or AFCI are readily accessible", {2014: "210.8, 210.12"}, "fix", ("behind", "height"), shock.out_of_reach),
    Rule("afci", 8, "120 V outlets of 15 and 20 A in kitchens, laundry areas and rooms to live in are behind an AFCI from the panel on",
         {2014: "210.12(A)", 2023: "210.12(B)"}, "stop", ("place", "work"), circuits.arcs, by_place=True),
    Rule("afci-extended", 9, "circuits extended or altered by more than 6 ft, or with a new outlet, get an AFCI",
         {2014: "210.12(B)", 2017: "210.12(D)", 2023: "210.12(E)"}, "fix", ("work", "length_ft"), circuits.arcs_extended),
    Rule("three-slots-no-ground", 10, "a three-slot receptacle without a ground is behind a GFCI", {2014: "406.4(D)(2)"}, "stop",
         ("grounded", "slots"), outlets.three_slots, any_book=True, always=True),
    Rule("no-ground-words", 10, "where a GFCI stands in for the ground its plate says so, and no ground runs on from there",
         {2014: "406.4(D)(2)"}, "fix", ("grounded", "marks"), outlets.no_ground_words),
    Rule("replaced", 11, "a receptacle put in for an old one gets what its place asks today", {2014: "406.4(D)(3) to (6)"}, "fix",
         ("work", "marks"), outlets.replaced),
    Rule("counter-circuits", 12, "two or more 20 A circuits serve the countertops", {2014: "210.11(C)(1), 210.52(B)(3)"}, "fix",
         ("place", "amps"), circuits.counter_circuits, layout=True),
    Rule("counter-alone", 13, "kitchen, pantry and dining receptacles are on the small-appliance circuits, and nothing else is",
         {2014: "210.52(B)(1), (2)"}, "fix", ("place", "use"), circuits.counter_alone, layout=True),
    Rule("laundry-circuit", 14, "laundry receptacles have a 20 A circuit of their own", {2014: "210.11(C)(2)"}, "fix", ("place", "amps"),
         circuits.own_circuit("laundry", ("laundry",)), layout=True),
    Rule("bath-circuit", 14, "bathroom receptacles have a 20 A circuit of their own", {2014: "210.11(C)(3)"}, "fix", ("place", "amps"),
         circuits.own_circuit("bathroom", ("bathroom",), may="one bath"), layout=True),
    Rule("garage-circuit", 14, "garage receptacles have a 20 A circuit of their own, with those outdoors at most", {2017: "210.11(C)(4)"}, "fix",
         ("place", "amps"), circuits.own_circuit("garage", ("garage", "outdoor")), layout=True),
    Rule("counter-spacing", 15, "no point of a countertop's wall line is over 24 in from a receptacle", {2014: "210.52(C)(1)"}, "fix",
         ("runs", "position"), spacing.counter_spacing, layout=True),
    Rule("island", 16, "receptacles of islands that are drawn; peninsulas are not judged", {2014: "210.52(C)(2), (3)"}, "fix", ("things", "position"),
         spacing.islands, layout=True),
    Rule("rooms-have", 17, "receptacles that baths, laundry areas, garages, halls and the outdoors have to have", {2014: "210.52(D) to (H)"}, "know",
         ("place", "feet_to_sink"), rooms.rooms_have, layout=True),
    Rule("wire-too-small", 18, "no breaker is larger than its wire may have", {2014: "240.4(D)"}, "fix", ("wire", "amps"), circuits.wire_too_small,
         any_book=True, always=True),
    Rule("receptacle-rating", 19, "receptacles fit the rating of their circuit", {2014: "210.21(B)"}, "fix", ("device", "single"),
         circuits.receptacle_rating),
    Rule("multiwire-handles", 20, "circuits that share a neutral are switched off together", {2014: "210.4(B)"}, "stop",
         ("shares_neutral_with", "tied", "poles"), circuits.handles, any_book=True, sure=False),
    Rule("multiwire-leg", 20, "circuits that share a neutral are on two legs", {2014: "210.4, Article 100"}, "stop",
         ("shares_neutral_with", "space"), circuits.one_leg, any_book=True, always=True, sure=False),
    Rule("box-fill", 21, "what is in the box of a receptacle, switch, device or junction fits it; a set-back, where written, is no more than the surface allows",
         {2014: "314.16(B), 314.20"}, "fix", ("fill",), outlets.box),
    Rule("tamper-resistant", 22, "15 and 20 A receptacles are tamper-resistant; outdoors weather-resistant under an in-use cover",
         {2014: "406.12, 406.9(B)"}, "fix", ("marks",), outlets.marks),
    Rule("directory", 23, "the panel's directory tells every circuit apart by its purpose", {2014: "408.4(A)"}, "fix", ("serves",), circuits.directory),
    Rule("torque", 24, "the terminals of breakers and of devices that open: to what figure they were tightened, and with which tool, is written", {2017: "110.14(D)"}, "know", ("device",), outlets.torque),
    Rule("alarm-power", 25, "no switch and no GFCI takes the power of an alarm", {2014: "NFPA 72, 210.12"}, "fix", ("use", "switched_by"),
         outlets.alarms, sure=False),
    Rule("garage-bays", 26, "each vehicle bay of a garage has a receptacle", {2017: "210.52(G)(1)"}, "know", ("place", "bays"), rooms.garage_bays,
         sure=False),
    Rule("lights", 27, "rooms have a light on a wall switch, rooms to live in that or a switched receptacle; doors to the outdoors have a light outside",
         {2014: "210.70(A)"}, "know", ("place", "switched_by"), rooms.lights, sure=False),
    Rule("transfer", 28, "a generator and the utility are kept apart by transfer equipment", {2014: "702.5"}, "stop", ("also_supplied_by", "transfer"),
         circuits.transfer, any_book=True, always=True, sure=False),
    Rule("bonded-once", 29, "in a panel behind another the neutral is apart from the ground", {2014: "250.142(B)"}, "stop", ("fed_from", "bonded"),
         circuits.bonded_once, always=True, sure=False),
    Rule("gfci-crawl-light", 30, "lights in crawl spaces are behind a GFCI", {2017: "210.8(E)", 2020: "210.8(C)"}, "fix", ("place",),
         shock.crawl_light, sure=False),
    Rule("gfci-floor-heat", 31, "heating cables in the floor of a bathroom or kitchen are behind a GFCI", {2014: "424.44(G)"}, "stop",
         ("use", "place"), shock.unguarded("gfci-floor-heat")),
)

BY_NAME = {rule.name: rule for rule in RULES}
EXTENDS = tuple(rule.name for rule in RULES if rule.by_place)
