"""The rough-in page as the tests open it, a small run to tap, and the job that comes of it."""

from tapping import NAME, Thumb, open_page

from sitegen.cli import main
from sitegen.job import read_job

# A small run: what is tapped, screen by screen. A device, LOAD and LINE behind it, a branch, a light, an appliance, a second breaker.
BREAKER = ["go", "at Garage", "space 5", "one 20", "type afci"]
RUN = [["next", "is gfci receptacle", "room Kitchen", "at left of the sink"],
       ["next", "load", "is receptacle", "room Kitchen", "at right of the sink"],
       ["next", "is receptacle", "room Kitchen", "at end of the counter"],
       ["branch", "is receptacle", "room Dining", "at below the window"],
       ["elsewhere", "from K1", "line", "is receptacle", "room Dining", "at by the door"],
       ["list", "breaker", "space 7", "two 30", "type standard", "next", "is appliance", "use water heater", "room Garage", "at far wall"],
       ["branch", "is light", "room Kitchen", "at ceiling"],
       ["next", "is switch", "room Kitchen", "at by the door"]]
STEPS = BREAKER + sum(RUN, [])
WALKED_TWICE = ("is receptacle", "room Kitchen", "at right of the sink", "at end of the counter")    # questions that come again
FEEDS = {"K1": "B5", "K2": "K1 load", "K3": "K2", "D1": "K2", "D2": "K1 line", "G1": "B7", "L1": "B7", "S1": "L1"}


def opened(context, address):
    page = context.new_page()
    page.errors = []
    page.on("pageerror", lambda error: page.errors.append(str(error)))
    page.on("console", lambda message: page.errors.append(message.text))
    open_page(page, address)
    return page


def saved(page, folder):
    """What the page saves, as a file."""
    for key in ("list", "send"):
        Thumb(page).tap(key) if Thumb(page).has(key) else None
    with page.expect_download() as download:
        page.tap("[data-key=save]")
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def feeds(job):
    return {point.id: str(point.feed) for point in job.points}


def begun(page, folder):
    """The job that comes of the map on the page."""
    file = saved(page, folder)
    assert main(["begin", str(folder / NAME), "--from", str(file)]) == 0
    return read_job(folder / NAME)
