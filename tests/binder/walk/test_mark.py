"""The mark of the places: what it hangs on, and which places changed."""

from dataclasses import replace

from houses import small

from sitegen.binder.walk.mark import changed, mark, places_line

HOUSE = small("B1: K1=gfci receptacle B1, K2=receptacle K1 load", "B2: L1=light B2")


def with_point(id, **changes):
    return replace(HOUSE, points=tuple(replace(p, **changes) if p.id == id else p for p in HOUSE.points))


def test_a_feed_changes_nothing():
    other = with_point("K2", feed=HOUSE.point["K1"].feed)
    assert mark(other) == mark(HOUSE) and changed(places_line(HOUSE), other) == ()


def test_another_spot_room_or_kind_is_named():
    for other in (with_point("K2", at="elsewhere"), with_point("K2", room="Garage"), with_point("K2", kind=HOUSE.point["L1"].kind)):
        assert mark(other) != mark(HOUSE) and changed(places_line(HOUSE), other) == ("K2",)


def test_what_is_gone_is_named_and_what_is_new_is_not():
    fewer = replace(HOUSE, points=HOUSE.points[:-1])
    assert changed(places_line(HOUSE), fewer) == ("L1",)
    assert changed(places_line(fewer), HOUSE) == () and mark(fewer) != mark(HOUSE)
