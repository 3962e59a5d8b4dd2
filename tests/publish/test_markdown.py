"""The contractor's Markdown becomes HTML that can do nothing."""

import html5lib
import pytest

from sitegen.publish.markdown import note_html

NS = "{http://www.w3.org/1999/xhtml}"


def parsed(text, **how):
    return html5lib.parse(str(note_html(text, "Care", 1, **how)))


@pytest.mark.parametrize("link", ["javascript:alert(1)", "JAVASCRIPT:alert(1)", "data:text/html,x", "vbscript:x", "//evil.example",
                                  "../index.html", "file:///etc", "java&#115;cript:x", "K1", "ftp://a.example"])
def test_other_links_stay_as_typed(link):
    """Only http, https, mailto and tel lead anywhere."""
    for text in (f"[x]({link})", f"<{link}>", f"[x][1]\n\n[1]: {link}"):
        assert not list(parsed(text).iter(NS + "a")), text


@pytest.mark.parametrize("link", ["https://a.example/b", "http://a.example", "mailto:a@b.example", "tel:+12035550147"])
def test_four_kinds_of_link_lead_on(link):
    [anchor] = parsed(f"[x]({link})").iter(NS + "a")
    assert anchor.get("href") == link


def test_raw_html_and_pictures_are_text():
    """Nothing that a note writes becomes an element of its own, and no picture is asked for."""
    tree = parsed('<script>alert(1)</script>\n\n<img src="https://a.example/x.png" onerror=x> ![a drawing](https://a.example/y.png)')
    assert {node.tag.removeprefix(NS) for node in tree.iter()} == {"html", "head", "body", "p"}
    assert "a drawing" in "".join(tree.itertext())


def test_headings_stand_below_the_pages_own():
    """The title is not said twice; no heading is an h1; a table is a table."""
    tree = parsed("# Care\n# More\n## Glass\n### Panes\n\n|a|b|\n|-|-|\n|1|2|\n")
    assert [node.tag.removeprefix(NS) for node in tree.iter() if node.tag.removeprefix(NS) in ("h1", "h2", "h3")] == ["h2", "h2", "h3"]
    assert len(list(tree.iter(NS + "td"))) == 2
    assert "<h3>More</h3>" in note_html("# More", "Care", 2)


def test_on_paper_a_link_is_spelled_out_once():
    """The target stands behind the words unless the words are the target already."""
    said = "".join(parsed("[us](https://a.example/x) <https://a.example/y> [a@b.example](mailto:a@b.example) "
                          "[(203) 555-0147](tel:+12035550147) [call](tel:+12035550147)", spell_out=True).itertext()).strip()
    assert said == ("us (https://a.example/x) https://a.example/y a@b.example (203) 555-0147 call (+12035550147)")
