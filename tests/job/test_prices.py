"""`prices` and `wishes` of job.yaml."""

from sitegen.job.records import Prices, Wishes

JOB = "id: elm\ntitle: Kitchen\n"


def test_dollars_become_cents(read):
    file = read(job=JOB + "prices: {gfci receptacle: 18.5, faceless: 24, new box: 60, breaker: 55, line: 2}\n"
                          "wishes: {most: 6, over: 4, far: 2.25, dark: 10}\n").file
    assert file.prices == Prices(1850, 2400, 6000, 5500, 200) and file.wishes == Wishes(6, 400, 225, 1000)


def test_without_prices_each_device_counts_as_one(read):
    file = read(job=JOB).file
    assert file.prices is None and Prices() == Prices(1, 1, 1, 1, 0) and file.wishes == Wishes()


def test_wishes_without_prices_cannot_be_weighed(faults):
    assert faults(job=JOB + "wishes: {far: 3}\n") == [
        "job.yaml:3: `wishes` without `prices`; expected `prices` too, since wishes are weighed in dollars. Add `prices`, or "
        "remove `wishes`."]


def test_prices_leave_out_nothing_but_the_line(faults):
    assert faults(job=JOB + "prices: {gfci receptacle: 18, faceless: 24, breaker: 55}\n") == [
        "job.yaml:3: `prices` has no `new box`; expected `gfci receptacle`, `faceless`, `new box` and `breaker`. Add `new box: "
        "...`."]
