"""A page for a first map and a thumb: enters a whole job by taps, typing only what has no key."""

from __future__ import annotations

from pathlib import Path

from sitegen.cli import main
from sitegen.job.records import Circuit, Job, Point
from sitegen.protection.tree import Tree

NAME = "house"      # of the job folder to be begun
MIDDLE = """key => {
    const found = document.querySelector(`[data-key="${CSS.escape(key)}"]`);
    if (!found) return null;
    found.scrollIntoView({block: "center"});
    const box = found.getBoundingClientRect(), at = [box.x + box.width / 2, box.y + box.height / 2];
    return found.contains(document.elementFromPoint(...at)) ? at : null;
}"""


def rough_in_page(folder: Path) -> str:
    """The address of a new page."""
    assert main(["begin", str(folder / NAME), "--page", str(folder / "page.html")]) == 0
    return (folder / "page.html").as_uri()


def open_page(page, address: str) -> None:
    """Open a page for the phone: it may load itself a second time before it draws its first screen."""
    page.goto(address, wait_until="commit")
    page.locator("[data-key]").first.wait_for()


class Thumb:
    """Taps by the names of keys; counts taps and texts."""

    def __init__(self, page):
        self.page, self.taps, self.typed = page, 0, 0

    def tap(self, key: str, perhaps: bool = False) -> bool:
        """Touch the middle of a key, where it lies on the screen and nothing lies over it. `perhaps`: False where there is none."""
        at = self.page.evaluate(MIDDLE, key)
        assert at or perhaps, f"no key `{key}` to be touched; there are {self.keys()}"
        if at:
            self.page.touchscreen.tap(*at)
            self.taps += 1
        return bool(at)

    def keys(self) -> list[str]:
        return self.page.evaluate("[...document.querySelectorAll('[data-key]')].map(key => key.dataset.key)")

    def has(self, key: str) -> bool:
        return key in self.keys()

    def type(self, text: str) -> None:
        self.page.fill("#typed", text)
        self.tap("take")
        self.typed += 1

    def say(self, name: str, text: str) -> None:
        """A text by its key, or typed."""
        if not self.tap(f"{name} {text}", perhaps=True):
            self.type(text)

    def fact(self, what: str, name: str, id: str, text: str) -> None:
        self.tap(f"fact {what} {name} {id}")
        self.say(name, text)

    def enter(self, job: Job) -> None:
        """Everything, circuit by circuit in feed order; a panel that a breaker feeds comes after that breaker."""
        self.tap("go")
        self.say("at", job.panels[0].at)
        panels, breakers = {job.panels[0].id}, set()
        for circuit in sorted(job.circuits, key=lambda circuit: circuit.panel != job.panels[0].id):
            self._breaker(job, circuit, panels, breakers)
            key = self._circuit(circuit.number)
            self.fact("circuit", "serves", key, circuit.serves)
            self._points([job.point[id] for id, _ in Tree(job).walk(circuit)], key)
        self.tap("list")

    def _breaker(self, job: Job, circuit: Circuit, panels: set[str], breakers: set[str]) -> None:
        breaker, panel = job.breaker[circuit.breaker], job.panel[circuit.panel]
        if breaker.id in breakers:
            self.tap("list")
            self.tap(f"breaker {breaker.id}")
            self.tap("second")
            self.type(circuit.number)
            return
        if panel.id not in panels:
            self.tap("list")
            self.tap(f"breaker {panel.fed_from}")
            self.tap("feeds")
            self.say("at", panel.at)
        elif breakers:
            self.tap("list")
            self.tap("breaker")
        panels.add(panel.id)
        breakers.add(breaker.id)
        self.tap(f"on {panel.id}", perhaps=True)
        self.say("space", breaker.space.split("/")[0])
        self.tap(f"{'two' if breaker.poles == 2 else 'one'} {breaker.amps:g}")
        self.tap(f"type {breaker.kind.name}")
        made = self.page.locator("[data-key^='fact breaker id']").get_attribute("data-key").split()[-1]
        if made != breaker.id:
            self.fact("breaker", "id", made, breaker.id)
        if circuit.number != breaker.space:
            self.fact("circuit", "number", self._circuit(breaker.space), circuit.number)

    def _circuit(self, number: str) -> str:
        """The page's own name of the circuit on this screen, as it stands in the keys of its facts."""
        keys = self.page.locator("[data-key^='fact circuit number']").all()
        return [key.get_attribute("data-key") for key in keys if key.locator(".is").inner_text() == number][-1].split()[-1]

    def _points(self, points: list[Point], circuit: str) -> None:
        last, alone = None, self.page.locator("[data-key^='fact circuit number']").count() == 1
        for point in points:
            source = point.feed.source
            if last is None or source == last.id:
                self.tap("next")
            else:
                self.tap("branch" if source == last.feed.source else "elsewhere")
            if last is None and not alone or last and source not in (last.id, last.feed.source):
                key = next(key for key in (f"from {source}", f"from {source} {circuit}") if self.has(key))
                self.tap(key)
            if point.feed.side:
                self.tap(point.feed.side)
            self._rest(point)
            last = point

    def _rest(self, point: Point) -> None:
        self.tap(f"is {point.kind.name}")
        asked = self.page.evaluate("document.querySelector('h1').textContent") == "What is plugged in or wired here?"
        if asked:
            self.say("use", point.use) if point.use else self.tap("nobody")
        self.say("room", point.room)
        self.say("at", point.at)
        made = self.page.evaluate("document.querySelector('h1 .tag').textContent")
        if made != point.id:
            self.fact("point", "id", made, point.id)
        more = {name.replace(" ", "_"): text for name, text in point.device.items()}
        more |= {"use": point.use} if point.use and not asked else {}
        if more:
            self.tap("more")
            if self.has("same") and len(more) > 3:
                self.tap("same")
        for name, text in more.items():
            if not self.has(f"fact point {name} {point.id}"):
                self.tap("more")
            if self.page.text_content(f"[data-key='fact point {name} {point.id}'] .is") != text:
                self.fact("point", name, point.id, text)
