"""Labels as SVG: whole files of exact size that need nothing else, and show what the pictures show."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
import zxingcpp
from PIL import Image
from publish.labels.inked import binder_of, codes_in, dark_alone, draw_label, label_svg
from pyzbar import pyzbar

from sitegen.binder.labels.records import DeviceLabel, OutletLabel
from sitegen.binder.site.records import Binder
from sitegen.errors import LabelError
from sitegen.job.labels.stock import DEFAULT
from sitegen.publish.labels.code import code_facts
from sitegen.publish.labels.files import label_files
from sitegen.publish.labels.label import lay_out_label

SVG, LINK = "{http://www.w3.org/2000/svg}", "{http://www.w3.org/1999/xlink}href"
SIGNS = DeviceLabel("Ñ8", "Baño — ½ × 3″ → 20 Ω, ¼, 40 °C", "RESETS", ("Cocina: cafetera, tostador, señal",),
                    "Each month: TEST turns it off, RESET on. If not, call.", "https://small.example/K1/", "DRAFT", 101.6, 50.8)
OUTLET = OutletLabel("K2", "No power?", "RESET K1", "OFF, then ON", "in PANTRY", "above the shelf", "Not proved.", "outlet K2",
                     None, 63.5, 38.1)


@pytest.fixture(scope="module")
def binder(example: Path) -> Binder:
    return binder_of(example, DEFAULT)


@pytest.fixture(scope="module")
def files(binder: Binder) -> dict[str, bytes]:
    return dict(label_files(binder))


@pytest.fixture(scope="module")
def window(chromium):
    """A page whose pictures have 300 dots an inch (a CSS inch is 96 of its pixels)."""
    context = chromium.new_context(device_scale_factor=300 / 96, viewport={"width": 500, "height": 300})
    yield context.new_page()
    context.close()


def shown(window, tmp_path: Path, svg: bytes) -> Image.Image:
    path = tmp_path / "label.svg"
    path.write_bytes(svg)
    window.goto(path.as_uri())
    return Image.open(io.BytesIO(window.screenshot())).convert("L")


def check_whole(root: ElementTree.Element) -> None:
    """Only shapes: no text that would need a typeface, no picture, no style; each reference leads to one id of the file."""
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    for element in root.iter():
        assert element.tag.removeprefix(SVG) in {"svg", "g", "path", "rect", "defs", "use"}
        if element.tag == f"{SVG}use":
            assert element.get(LINK, "")[0] == "#" and element.get(LINK, "")[1:] in ids
        assert not {"style", "class", "onload", "href"} & set(element.keys())


def test_every_device_has_an_svg_of_the_size_of_its_label(binder: Binder, files: dict[str, bytes]) -> None:
    for label in binder.labels.devices:
        root = ElementTree.fromstring(files[f"print/labels/{label.id}.svg"])
        check_whole(root)
        assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("101.6mm", "50.8mm", "0 0 2400 1200")
        assert root.get("role") == "img" and root.get("aria-label", "").startswith(f"{label.id} {label.room}")


@pytest.mark.parametrize("size", [(63.5, 38.1), (66.675, 38.0), (57.0, 40.3)])
def test_the_size_is_never_larger_than_asked(size: tuple[float, float]) -> None:
    """In whole dots of a 600th of an inch, 0.042 mm."""
    root = ElementTree.fromstring(label_svg(replace(OUTLET, width_mm=size[0], height_mm=size[1])))
    for asked, name in zip(size, ("width", "height"), strict=True):
        assert 0 <= asked - float(root.get(name, "").removesuffix("mm")) < 0.0424


@pytest.mark.browser
def test_every_svg_is_read_by_both_readers_and_has_the_size_that_bind_prints(binder: Binder, files: dict[str, bytes], window,
                                                                             tmp_path: Path) -> None:
    for label in binder.labels.devices[::3]:
        picture, facts = shown(window, tmp_path, files[f"print/labels/{label.id}.svg"]), code_facts(label, 300)
        [seen] = codes_in(picture, 300)
        assert seen.text == label.code
        assert seen.box_mm[2] - seen.box_mm[0] == pytest.approx(facts.code_mm, abs=0.2)
        assert seen.box_mm[3] - seen.box_mm[1] == pytest.approx(facts.code_mm, abs=0.2)


@pytest.mark.browser
@pytest.mark.parametrize("label", [SIGNS, replace(SIGNS, code=None, width_mm=63.5, height_mm=38.1), OUTLET],
                         ids=["signs", "no code", "outlet"])
def test_lines_and_dots_show_the_same(label: DeviceLabel | OutletLabel, window, tmp_path: Path) -> None:
    """FreeType's letters in the picture and the browser's of the outlines: no dark dot is alone, not by a 150th of an inch."""
    dots = draw_label(label, 600).convert("L").reduce(2)
    vector = shown(window, tmp_path, label_svg(label)).crop((0, 0, *dots.size))
    assert dark_alone(dots, vector) == dark_alone(vector, dots) == 0
    other = shown(window, tmp_path, label_svg(replace(label, id="K3", room="Baño") if label.code else replace(label, id="K3"))
                  if isinstance(label, DeviceLabel) else label_svg(replace(label, act="RESET K3"))).crop((0, 0, *dots.size))
    assert dark_alone(other, dots) > 20      # the comparison can fail


def test_a_label_that_cannot_be_printed_is_no_svg_either() -> None:
    with pytest.raises(LabelError):
        label_svg(replace(SIGNS, room="\u200b"))


def test_letters_of_an_svg_stand_where_the_picture_has_them() -> None:
    """The width of every line is the measured one; the browser cannot set it otherwise."""
    layout = lay_out_label(SIGNS, 600)
    root = ElementTree.fromstring(label_svg(SIGNS))
    lines = [group for group in root.findall(f"{SVG}g") if group.get("transform", "").startswith("translate")]
    wanted = [mark for mark in layout.marks if hasattr(mark, "text")]
    assert [group.get("transform") for group in lines] == [
        f"translate({line.left} {line.baseline}) scale({line.size / 1000:g})" for line in wanted]
    assert [len(group) for group in lines] == [len(re.sub(r"[ \u00a0]", "", line.text)) for line in wanted]


@pytest.mark.browser
@pytest.mark.parametrize("dpi", [203, 300])
def test_a_browser_at_the_resolution_of_a_roll_printer(chromium, tmp_path: Path, dpi: int) -> None:
    """The code stays readable where the dots of the printer and of the SVG do not match."""
    context = chromium.new_context(device_scale_factor=dpi / 96, viewport={"width": 500, "height": 300})
    picture = shown(context.new_page(), tmp_path, label_svg(replace(SIGNS, id="K1", draft=None)))
    context.close()
    assert [code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)] == [SIGNS.code]
    assert [code.data.decode() for code in pyzbar.decode(picture)] == [SIGNS.code]
