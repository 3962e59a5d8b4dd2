"""Takes the proof; gives what the contractor has to hear: the table of rules, in the order in which they speak.

Levels: `stop` keeps the job from being ready, `fix` should be mended, `know` is only told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from ...protection.maps import correct, impossible
from ..finding import Finding
from ..proof import Proof
from . import advice, contradicted, devices, house, neutrals, outlets, panels, printed, privacy, readings, rows, visits
from .code import judge, table

# Each rule with the kinds of finding that it may give.
FINDINGS: dict[Callable[[Proof], Iterable[Finding]], str] = {
    impossible.fits_no_map: "miswired cannot-both-be",
    devices.no_supply: "no-supply",
    devices.device_failed: "device-failed",
    devices.device_untested: "device-untested",
    visits.printed_feed: "printed-feed",
    visits.device_newer: "installed-later",
    visits.not_tested_since: "not-tested-since",
    visits.not_shown_since: "not-shown-since",
    visits.gone_from_where: "gone-from-where",
    visits.read_before: "read-before",
    visits.handed_over_early: "handover-before-tests",
    contradicted.contradicted: "contradicted",
    correct.map_correction: "map-correction no-correction",
    devices.guard_held: "guard-held",
    devices.not_by_tester: "not-by-tester",
    outlets.not_shown: "not-shown",
    rows.not_accounted: "not-accounted",
    rows.no_reading: "no-reading",
    rows.unread: "unread",
    readings.wrong_reading: "wrong-reading",
    readings.reading_changed: "reading-changed",
    rows.did_not_reset: "did-not-reset",
    rows.opened_unpressed: "opened-unpressed",
    rows.not_lit_again: "not-lit-again",
    rows.volts_after: "volts-after",
    outlets.needs_gfci: "needs-gfci needs-gfci-not-proved",
    outlets.feed_unknown: "feed-unknown",
    neutrals.shared_neutral: "shared-neutral",
    neutrals.opened_together: "opened-together",
    neutrals.neutral_failing: "neutral-failing",
    judge.by_the_book: " ".join((*table.BY_NAME, "keys-missing")),
    readings.volts_before: "volts-range-b volts-outside",
    readings.volts_differ: "volts-differ",
    readings.never_live: "never-live",
    rows.names_no_outlet: "names-no-outlet",
    readings.reads_ground: "reads-ground",
    readings.press_shows_nothing: "press-shows-nothing",
    readings.far_one_opened: "series",
    readings.breaker_not_tripped_by_tester: "breaker-not-tripped",
    readings.bears_on_nothing: "bears-on-nothing",
    outlets.unprotected: "unprotected",
    outlets.told_not_proved: "not-proved",
    outlets.unlooked_lights: "light-not-looked-at",
    devices.handle_not_tried: "handle-not-tried",
    panels.same_space: "same-space",
    panels.aluminum: "aluminum",
    judge.work_unsaid: "work-unsaid",
    judge.which_book: "no-book book-unknown amendment-unknown amended",
    advice.critical_shared: "advice-critical",
    advice.dark_room: "advice-dark-room",
    advice.reset_behind_storage: "advice-storage",
    advice.protected_twice: "advice-twice",
    advice.reads_as_digits: "advice-digits",
    advice.standing_leakage: "advice-leakage",
    advice.voltage_drop: "advice-drop",
    house.of_another_job: "of-another-job",
    house.lacks_language: "untranslated",
    house.spelled_twice: "room-spelled-twice",
    privacy.private_in_public: "private-in-public owner-named",
    printed.printed_host: "printed-host",
    printed.printed_id: "printed-id printed-anew",
    printed.printed_gone: "printed-gone",
    house.job_file: "no-phone no-handover no-host",
}


def find(proof: Proof) -> tuple[Finding, ...]:
    """Every finding, in the order of the table."""
    return tuple(finding for rule in FINDINGS for finding in rule(proof))
