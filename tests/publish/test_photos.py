"""Photos of the contractor: straightened, scaled, bare of metadata, and never needed for the answer."""


import html5lib
import pytest
from house import small_job
from PIL import Image

from sitegen.cli import main

NS = "{http://www.w3.org/1999/xhtml}"


@pytest.fixture
def job(tmp_path):
    folder = small_job(tmp_path / "job", ("protection_map.yaml", "at: left of the sink,", "at: left of the sink, photo: k1.jpg,"))
    (folder / "photos").mkdir()
    return folder


def test_a_photo_taken_sideways_is_straightened_scaled_and_bare(job, tmp_path):
    """EXIF orientation 6 (the camera lay on its right side, CIPA DC-008): the left edge of the file is the top of what was
    seen. Place, time and camera are gone."""
    taken = Image.new("RGB", (2400, 1200), "white")
    taken.paste("black", (0, 0, 1200, 1200))  # the left half
    exif = taken.getexif()
    exif[0x0112] = 6
    exif[0x0110] = "A camera"
    exif.get_ifd(0x8825)[2] = (41.0, 30.0, 0.0)
    taken.save(job / "photos" / "k1.jpg", exif=exif)
    assert main(["bind", str(job), "--out", str(tmp_path / "out")]) == 0
    path = tmp_path / "out" / "site" / "place-pictures" / "K1.jpg"
    with Image.open(path) as kept:
        assert kept.size == (480, 960)
        assert sum(kept.getpixel((240, 100))) < 60 and sum(kept.getpixel((240, 860))) > 700
        assert not dict(kept.getexif()) and set(kept.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert b"camera" not in path.read_bytes()
    for page in ("K1", "K2"):
        [image] = html5lib.parse((tmp_path / "out" / "site" / page / "index.html").read_bytes()).iter(NS + "img")
        assert image.get("src") == "../place-pictures/K1.jpg" and image.get("loading") == "lazy" and image.get("alt")
        assert (image.get("width"), image.get("height")) == ("480", "960")


def test_a_file_that_is_no_picture_is_named_with_its_line(job, tmp_path, capsys):
    (job / "photos" / "k1.jpg").write_bytes(b"not a picture")
    assert main(["bind", str(job), "--out", str(tmp_path / "out")]) == 2
    said = capsys.readouterr().err
    assert said.startswith("protection_map.yaml:9: photos/k1.jpg is no picture that can be opened")
    assert not (tmp_path / "out").exists()


@pytest.mark.browser
def test_a_photo_lies_below_the_first_screen_and_asks_for_nothing_before(job, tmp_path, chromium):
    Image.new("RGB", (1200, 900), "gray").save(job / "photos" / "k1.jpg")
    assert main(["bind", str(job), "--out", str(tmp_path / "out")]) == 0
    page = chromium.new_page(viewport={"width": 360, "height": 560})
    messages = []
    page.on("console", lambda message: messages.append(message.text))
    page.goto((tmp_path / "out" / "site" / "K1" / "index.html").as_uri())
    assert page.locator("figure img").bounding_box()["y"] > 560
    page.locator("figure img").scroll_into_view_if_needed()
    assert page.evaluate("async () => { const i = document.querySelector('figure img'); await i.decode(); return i.naturalWidth; }")
    assert messages == []
    page.close()
