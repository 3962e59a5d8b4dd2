"""Answers that are kept: each worked out once for one desk, and never handed from one desk to another."""

from house import BASE, report_of

from sitegen.binder.answer.lists import turns_off
from sitegen.binder.desk import Desk
from sitegen.binder.desk.once import once
from sitegen.publish.theme import open_theme


def test_the_same_question_is_worked_out_once_a_desk():
    asked = []

    @once
    def work(desk, *ids):
        asked.append(ids)
        return ids

    one, other = (Desk(report_of(BASE), open_theme().words("en")) for _ in range(2))
    assert [work(one, "K1"), work(one, "K1"), work(one, "K1", "K2"), work(other, "K1")] == [("K1",), ("K1",), ("K1", "K2"), ("K1",)]
    assert asked == [("K1",), ("K1", "K2"), ("K1",)]


def test_a_desk_of_another_language_has_answers_of_its_own():
    report = report_of(BASE)
    english, spanish = (turns_off(Desk(report, open_theme().words(language)), "K1") for language in ("en", "es"))
    assert english.seen != spanish.seen and [item.id for item in english.items] == [item.id for item in spanish.items]
