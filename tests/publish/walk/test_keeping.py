"""What was entered stays: closed after every tap, storage refused, full or spoilt, two tabs, a clock that goes back, a page made anew."""

from __future__ import annotations

from datetime import timedelta

import pytest
from house import BASE, report_of
from publish.walk.taps import BEGIN, Walker, answer, data_of, page_of, without_tests
from tapping import open_page

from sitegen.protection.tree import Tree

pytestmark = pytest.mark.browser
REFUSED = "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }})"
FULL = """const set = Storage.prototype.setItem;
Storage.prototype.setItem = function (key, value) { if (value.length > 900) throw new DOMException('full', 'QuotaExceededError'); set.call(this, key, value); }"""


@pytest.fixture(scope="module")
def small():
    return without_tests(report_of(BASE))


@pytest.fixture
def phone(chromium):
    context = chromium.new_context(viewport={"width": 360, "height": 640}, has_touch=True, is_mobile=True)
    yield context
    context.close()


class Forgetful(Walker):
    """Closes the page after every tap and opens the file again."""

    def tap(self, key):
        super().tap(key)
        old, self.page = self.page, self.page.context.new_page()
        old.close()
        self.page.clock.set_fixed_time(self.at)
        open_page(self.page, self.url)


def some_tests(walker, small, count, data=None):
    """The first tests of the list, tapped and saved."""
    tree = Tree(small.job)
    for number, test in enumerate((data or data_of(small))["tests"][:count]):
        walker.at = BEGIN + timedelta(minutes=number)
        walker.page.clock.set_fixed_time(walker.at)
        walker.test(test, answer(small.job, tree, test, number))
    return walker


def begun(phone, file, sort=Walker):
    walker = sort(phone.new_page(), file)
    walker.at, walker.url = BEGIN, file.as_uri()
    return walker


def rows(text):
    return text.split("\n")[3:-1]


def started(walker):
    walker.begin()
    walker.tap("next")
    return walker


def test_closed_after_every_tap(small, phone, chromium, tmp_path):
    """The file is the same as without closing, to the byte; the page says that this phone keeps."""
    file = page_of(small, tmp_path)
    other = chromium.new_context(viewport={"width": 360, "height": 640}, has_touch=True, is_mobile=True)
    steady = some_tests(started(begun(other, file)), small, 3).file()
    other.close()
    walker = begun(phone, file)
    walker.begin()
    walker.__class__ = Forgetful
    walker.tap("next")
    assert "This phone keeps what you enter" in walker.page.locator(".keeps").inner_text()   # told once, on the first opening that shows it
    walker.tap("go")
    some_tests(walker, small, 3)
    walker.__class__ = Walker
    assert walker.page.evaluate("store.state") == "kept"
    assert walker.file() == steady and len(rows(steady)) == 3


@pytest.mark.parametrize("trouble, says", [(REFUSED, "only the address"), (FULL, "no room left")])
def test_storage_refused_or_full(small, phone, tmp_path, trouble, says):
    """The address of the open page carries a copy, and the page says so."""
    phone.add_init_script(trouble)
    walker = some_tests(started(begun(phone, page_of(small, tmp_path))), small, 3)
    assert walker.page.evaluate("store.state") == "address"
    again = phone.new_page()
    open_page(again, walker.page.url)
    assert says in again.locator(".keeps").inner_text()
    assert again.evaluate("log.rows.length") == 3 and again.evaluate("log.rows.map(row => row.cells)") == walker.page.evaluate("log.rows.map(row => row.cells)")


def test_where_nothing_can_be_kept_the_page_says_so(small, phone, tmp_path):
    phone.add_init_script(REFUSED + "; window.btoa = () => { throw new Error('no'); }")
    walker = begun(phone, page_of(small, tmp_path))
    assert "keeps nothing" in walker.page.locator(".keeps").inner_text()


def test_what_is_spoilt_is_put_aside_and_told(small, phone, tmp_path):
    """Cut anywhere, what was kept is never taken for whole."""
    walker = some_tests(started(begun(phone, page_of(small, tmp_path))), small, 2)
    assert walker.page.evaluate("(() => { const text = localStorage.getItem(store.key); return [...text].filter((_, at) => storeRead(text.slice(0, at))).length; })()") == 0
    for cut in ("text.slice(0, -9)", "'null'", "'{\"turn\":9,\"value\":{\"rows\":[{}],\"drafts\":{}}}'", "''"):
        kept = walker.page.evaluate(f"(() => {{ const text = localStorage.getItem(store.key), cut = {cut}; localStorage.setItem(store.key, cut); return cut; }})()")
        walker.page.reload()
        assert "cannot be read" in walker.page.locator(".odd").inner_text()
        assert walker.page.evaluate("localStorage.getItem(store.key + ' spoilt')") == kept


def test_two_tabs(small, phone, tmp_path):
    """The later one takes over; the earlier one says so at once and takes no tap; going on there brings back every row."""
    file = page_of(small, tmp_path)
    one = some_tests(started(begun(phone, file)), small, 1)
    two = begun(phone, file)
    assert two.page.evaluate("log.rows.length") == 1
    one.page.locator("[data-screen=twice]").wait_for()
    two.tap("go")
    test = data_of(small)["tests"][1]
    two.test(test, answer(small.job, Tree(small.job), test, 1))
    one.tap("here")
    assert one.page.evaluate("log.rows.length") == 2 and one.page.evaluate("document.body.dataset.screen") == "test"
    two.page.locator("[data-screen=twice]").wait_for()


def test_a_clock_that_goes_back(small, phone, tmp_path):
    """The later look has the later time, and its note says what the phone showed."""
    walker = some_tests(started(begun(phone, page_of(small, tmp_path))), small, 2)
    walker.page.clock.set_fixed_time(BEGIN - timedelta(hours=1))
    test = data_of(small)["tests"][2]
    walker.test(test, answer(small.job, Tree(small.job), test, 2))
    assert "clock of this phone went back" in walker.page.locator(".said").inner_text()
    last = rows(walker.file())[-1]
    assert ",phone clock 2027-06-01 08:00:00,09:01:01," in last


def test_undo_change_and_over(small, phone, tmp_path):
    """Undo brings the draft back as it was; a row in no file is changed, one that is in a file is done over and both stay."""
    walker = some_tests(started(begun(phone, page_of(small, tmp_path))), small, 2)
    before = walker.page.evaluate("log.rows.map(row => row.cells.slice(1, 12))")
    walker.tap("undo")
    assert walker.page.evaluate("log.rows.length") == 1
    walker.tap("save")
    assert walker.page.evaluate("log.rows.map(row => row.cells.slice(1, 12))") == before
    key = data_of(small)["tests"][0]["key"]
    for tap in ("back", key, "change", "save"):
        walker.tap(tap)
    assert walker.page.evaluate("log.rows.map(row => row.cells.slice(1, 12))") == before[::-1]
    text = walker.file()
    walker.tap("taken")
    assert walker.page.evaluate("notFiled()") == 0 and len(rows(text)) == 2
    test = data_of(small)["tests"][0]
    walker.tap(key)
    walker.tap("change")
    walker.test(test, answer(small.job, Tree(small.job), test, 0))
    assert len(rows(walker.file())) == 3


def test_rows_of_an_earlier_page_are_not_forgotten(small, phone, tmp_path):
    """A page made anew asks other tests; what the one before kept, and no file has, can still be saved."""
    (tmp_path / "new").mkdir()
    walker = some_tests(started(begun(phone, page_of(small, tmp_path))), small, 2)
    text = walker.file()
    later = begun(phone, page_of(small, tmp_path / "new", missing=False))
    with later.page.expect_download() as download:
        later.tap("behind")
    assert download.value.path().read_text("utf-8") == text


def test_shared_and_only_then_in_a_file(small, phone, tmp_path):
    """What is handed to the phone's own sharing is the file; a row counts as in a file when a person has seen it there."""
    phone.add_init_script("navigator.canShare = () => true; navigator.share = given => { window.given = given.files[0]; return Promise.resolve(); }")
    walker = some_tests(started(begun(phone, page_of(small, tmp_path))), small, 2)
    text = walker.file()
    for key in ("back", "send", "share"):
        walker.tap(key)
    walker.page.locator("[data-key=yes]").wait_for()
    assert walker.page.evaluate("given.text()") == text and walker.page.evaluate("given.name") == "small-taps-2027-06-01-090100.csv"
    walker.tap("no")
    assert walker.page.evaluate("notFiled()") == 2
    walker.tap("save")
    walker.tap("yes")
    assert walker.page.evaluate("notFiled()") == 0


def test_another_answer_asks_anew(small, phone, tmp_path):
    """What was kept against one press is not kept against another."""
    walker = started(begun(phone, page_of(small, tmp_path)))
    for key in ("back", next(test["key"] for test in data_of(small)["tests"] if test["outlet"] == "K3" and test["pressed"] == "device"), "o K3", "dead K1", "keep K1",
                "chip opened", "o K3"):
        walker.tap(key)
    assert walker.has("keep K1")


def test_a_yes_to_the_rest_is_taken_back_at_once(small, phone, tmp_path):
    walker = started(begun(phone, page_of(small, tmp_path)))
    device = next(test["key"] for test in data_of(small)["tests"] if test["outlet"] == "F1")
    for key in ("back", device, "o F1", "dead DW", "house", "yes"):
        walker.tap(key)
    assert walker.page.evaluate("Object.keys(log.drafts[log.open].seen).length") == 6
    walker.tap("chip rest")
    assert walker.page.evaluate("log.drafts[log.open].seen") == {"DW": "dead"}


def test_a_breaker_is_switched_off(small, phone, tmp_path):
    """With what its own circuit may trip; the handle itself is no key of it."""
    walker = started(begun(phone, page_of(small, tmp_path, missing=False)))
    one = next(test for test in data_of(small, False)["tests"] if test["pressed"] == "breaker" and test["looks"])
    walker.tap("back")
    walker.tap(one["key"])
    assert walker.page.locator(".ask").inner_text() == "Switch it off. Did anything trip as well?" and not walker.has(f"o {one['outlet']}")
    walker.tap("nothing")
    for id in one["looks"]:
        walker.look(id, "dead")
    walker.tap("save")
    assert walker.page.evaluate("log.rows[0].cells.slice(1, 7)") == [one["outlet"], "breaker", "", "", "none", " ".join(one["looks"])]


def test_what_does_not_come_back_stops_the_walk(small, phone, tmp_path):
    """No next press is opened; the list says so, in words and with a mark of its own."""
    walker = started(begun(phone, page_of(small, tmp_path)))
    device = next(test["key"] for test in data_of(small)["tests"] if test["outlet"] == "F1")
    for key in ("back", device, "o F1", "dead DW", "no reset", "sure"):
        walker.tap(key)
    assert walker.page.evaluate("[document.body.dataset.screen, log.open, log.rows[0].cells[9]]") == ["list", None, "no"]
    assert "did not come back. Stop here" in walker.page.locator(".odd").inner_text()
    assert "did not come back" in walker.page.locator(f"[data-key='{device}']").inner_text()
    assert walker.page.locator("nav .main").count() == 0


def test_keeping_the_last_that_is_at_odds_saves(small, phone, tmp_path):
    """The save that had asked goes on by itself."""
    walker = started(begun(phone, page_of(small, tmp_path)))
    device = next(test["key"] for test in data_of(small)["tests"] if test["outlet"] == "F1")
    for key in ("back", device, "o F1", "live DW", "save", "keep DW"):
        walker.tap(key)
    assert walker.page.evaluate("log.rows.map(row => [row.cells[7], row.cells[9], row.state])") == [["DW", "yes", "kept"]]


def test_what_is_still_to_be_said_is_written_at_its_question(small, phone, tmp_path):
    walker = begun(phone, page_of(small, tmp_path))
    for says, keys in (("Tap who", ("other",)), ("time is right", ("now",)), ("Tell everyone", ())):
        walker.tap("go")
        assert says in walker.page.locator("main [role=alert]").inner_text()
        for key in keys:
            walker.tap(key)
        if "other" in keys:
            walker.page.fill("#who", "A. Fern")
            walker.tap("take who")
        assert keys == () or walker.page.locator("main [role=alert]").count() == 0


def test_volts_are_put_right_before_their_tenths(small, phone, tmp_path):
    walker = started(begun(phone, page_of(small, tmp_path)))
    tester = next(test["key"] for test in data_of(small)["tests"] if test["pressed"] == "tester")
    for key in ("back", tester, "correct", "v122", "chip whole", "v121", "t3"):
        walker.tap(key)
    assert walker.page.evaluate("log.drafts[log.open].volts") == "121.3"


def test_what_opens_by_itself_in_a_round_is_written(small, phone, tmp_path):
    """It joins what was open, and stands under `tripped` alone."""
    walker = started(begun(phone, page_of(small, tmp_path, missing=False, rounds=True)))
    data = data_of(small, False, True)
    one = next(test for test in data["tests"] if test["outlet"] == "B5 B7")
    for key in ("back", one["key"], "r B5", "r B7", "itself", "r K1", "walk", "dead L1", "save", "save gaps"):
        walker.tap(key)
    assert walker.page.evaluate("log.rows[0].cells.slice(1, 7)") == ["B5 B7", "round", "", "", "K1", "L1"]


@pytest.mark.parametrize("others", [1, 2])
def test_a_page_that_was_given_another_store_loads_itself_anew(small, phone, tmp_path, others):
    """Seen in Chromium: a page opened as another closes may be given an empty store of its own, once or again, until it is loaded anew."""
    file = page_of(small, tmp_path)
    some_tests(started(begun(phone, file)), small, 1).page.close()
    # How often it was loaded stands in its name; not in sessionStorage: a load that follows at once may not see that yet.
    phone.add_init_script("""const own = {};
if (Number(window.name.split("\\n")[1] || 0) < OTHERS) {
    Object.defineProperty(window, "localStorage", {value: {
        getItem: key => own[key] ?? null, setItem: (key, value) => { own[key] = value; }, removeItem: key => { delete own[key]; }}});
}""".replace("OTHERS", str(others)))
    assert begun(phone, file).page.evaluate("log.rows.length") == 1


def test_a_page_that_cannot_be_loaded_anew_begins_as_it_is(small, phone, tmp_path):
    """The second load is stopped: the page does not stay blank."""
    file, loads = page_of(small, tmp_path), []
    phone.route(file.as_uri(), lambda route: route.continue_() if not loads and not loads.append(1) else route.abort("aborted"))
    page = phone.new_page()
    open_page(page, file.as_uri())
    assert page.locator("h1").count() == 1 and loads == [1]
