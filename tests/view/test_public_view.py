"""What a paid pattern shows: enough to decide, and nothing that tells its rows, steps or text."""

from __future__ import annotations

import pickle
import random
from dataclasses import replace

import pytest

from stripewright.pages.cards import card
from stripewright.pages.render import Renderer
from stripewright.pattern.quantities import Money
from stripewright.view.secrets import normal, secrets_of
from stripewright.view.site import is_sponsored, offer_view
from support.pages import all_of, parse, site_files, words
from support.views import FREE, PAID, SETTINGS, made, pattern_views, site, theme, view_of

MARK = "Hide the slanted toggle behind the lamp."


def pages(view, name: str = "tideline") -> bytes:
    """Everything that a pattern puts on the site, in one text."""
    renderer = Renderer(site(), theme(name))
    files = renderer.pattern(view) | site_files(renderer, [card(view)])
    drawn = view.drawings.everything()
    return b"\n".join(files.values()) + "\n".join(d.svg for d in drawn).encode()


def test_a_paid_pattern_has_no_whole_but_all_that_a_buyer_decides_by():
    view = pattern_views()[1]
    numbers, offer = view.numbers, view.offer
    assert (view.groups, view.body_html, view.after_html) == ((), "", "")
    assert not any(one.groups or one.body_html or one.numbers.pieces for one in view.size_choices)
    assert (numbers.pieces, numbers.clashes, view.video.chapters) == ((), (), ())
    assert [(yarn.length, yarn.mass, yarn.uses) for yarn in numbers.materials] == [(None,) * 3] * 2
    assert view.simplified
    assert (offer.amount, offer.currency, offer.price) == (6.5, "EUR", "€6.50")
    assert (offer.shop, offer.sponsored) == ("https://shop.example.org/groyne", True)
    assert numbers.sizes
    assert numbers.materials[0].buy.balls >= 1
    assert numbers.minutes % 15 == 0
    assert "for everyone" in view.intro_html
    assert view.drawings.schematics


def test_a_buyer_sees_it_whole():
    view = view_of(PAID, "groyne-bolster", whole=True)
    assert MARK in view.body_html
    assert "crooked lantern" in view.after_html
    assert "crooked lantern" not in view.body_html
    assert [row.last for row in view.numbers.pieces[0].plan][-1] == 62
    assert view.corrections[0].text == "The lining was missing."


@pytest.mark.parametrize("name", ["tideline", "ledger"])
def test_what_stands_below_the_steps_comes_after_making_up(name: str):
    view = pattern_views()[0]
    renderer = Renderer(site(), theme(name))
    feed = site_files(renderer, [card(view)])["feed.xml"].decode()
    for text in (*(page.decode() for page in renderer.pattern(view).values()), feed):
        assert (
            text.index("Knit 62 rows")
            < text.rindex("Close the cover")
            < text.index("crooked lantern")
        )


@pytest.mark.parametrize("name", ["tideline", "ledger"])
def test_its_pages_hold_no_private_word(name: str):
    data = pages(pattern_views()[1], name)
    for private in (
        MARK,
        "slanted",
        "crooked",
        "Setting up",
        "Closing the end",
        "one row too many",
        "RC 0",
    ):
        assert private.encode() not in data, private
    assert b"buyers get the corrected file" in data


def test_the_same_search_finds_them_in_a_free_patterns_pages():
    """So that the test above can fail."""
    data = pages(pattern_views()[0])
    for shown in ("crooked", "Setting up", "Closing the end", "one row too many", "RC 0"):
        assert shown.encode() in data, shown


def shuffled(text: str, rng: random.Random) -> str:
    """The text with other rows in its stripes, of the same sum."""
    rows = [16, 9, 11, 7, 17]
    for _ in range(20):
        a, b = rng.sample(range(5), 2)
        if rows[a] > 2:
            rows[a] -= 1
            rows[b] += 1
    written = "deep {}, foam {}, deep {}, foam {}, deep {}".format(*rows)
    return text.replace("deep 16, foam 9, deep 11, foam 7, deep 17", written)


@pytest.mark.parametrize("seed", range(12))
def test_other_rows_give_the_same_pages_byte_for_byte(seed: int):
    """The strongest form of the promise: a reader can't tell two row plans of one size apart.

    Yarn in balls is what a buyer needs to be told, so patterns that need other balls are left out.
    """
    rng = random.Random(seed)
    one, two = view_of(PAID, "same"), view_of(shuffled(PAID, rng), "same")
    balls = [[m.buy.balls for m in view.numbers.materials] for view in (one, two)]
    if balls[0] == balls[1]:
        assert pages(one) == pages(two)
    else:
        others = replace(one.numbers, materials=two.numbers.materials)
        assert replace(one, numbers=others) == two


def test_other_rows_of_a_free_pattern_do_not():
    one, two = view_of(FREE, "same"), view_of(shuffled(FREE, random.Random(3)), "same")
    assert pages(one) != pages(two)


def test_its_drawings_have_bands_of_one_height():
    from xml.etree import ElementTree as ET

    view = pattern_views()[1]
    rows = [16, 9, 11, 7, 17]
    svg = ET.fromstring(view.drawings.strip.svg)
    paths = [e.get("d") for e in svg.iter() if (e.get("class") or "").startswith("yarn-")]
    assert paths
    widths = [float(part.split("h")[1].split("v")[0].split("V")[0]) for d in paths
              for part in d.split("M")[1:] if "h" in part]  # fmt: skip
    assert len(widths) == len(rows)
    assert max(widths) - min(widths) < 0.1


def test_secrets_are_the_private_sentences_and_the_plans():
    worked, written = made(PAID, "groyne-bolster")
    secrets = secrets_of(worked, written)
    assert normal(MARK) in secrets.sentences
    assert normal("The third stripe had one row too many.") in secrets.sentences
    assert not any("for everyone" in sentence for sentence in secrets.sentences)
    cover = worked.piece("cover")
    assert tuple(line.rows for line in cover.plan) in secrets.plans
    assert tuple(line.visible for line in cover.plan) in secrets.plans
    assert tuple(line.last for line in cover.plan) in secrets.plans
    assert "groyne-bolster-a4.pdf" in secrets.files
    assert pickle.loads(pickle.dumps(secrets)) == secrets


def test_what_the_introduction_says_is_no_secret():
    text = PAID.replace("What it is, for everyone.", f"What it is. {MARK}")
    worked, written = made(text, "groyne-bolster")
    assert normal(MARK) not in secrets_of(worked, written).sentences


def test_what_a_free_pattern_says_anywhere_is_known_to_be_said():
    """So that a paid pattern's sentence that a free one's introduction also has is no secret."""
    free = FREE.replace("## Before you start", f"{MARK}\n\n## Before you start", 1)
    assert normal(MARK) in secrets_of(*made(free, "breakwater-bolster")).sentences


def test_what_costs_something_has_an_offer_in_the_studio_s_currency():
    offer = offer_view(Money(3, None), "https://stall.example.org/book", SETTINGS)
    assert (offer.amount, offer.currency, offer.price, offer.sponsored) == (
        3,
        "EUR",
        "€3.00",
        False,
    )
    assert offer_view(None, None, SETTINGS) is None


@pytest.mark.parametrize(
    ("url", "sponsored"),
    [
        ("https://shop.example.org/item", True),
        ("https://eu.shop.example.org/item", True),
        ("https://stall.example.org/item", False),
        ("https://notshop.example.org/item", False),
        ("https://example.org/shop.example.org", False),
        ("https://shop.example.org@evil.example/item", False),
    ],
)
def test_a_link_is_sponsored_by_its_host(url: str, sponsored: bool):
    assert is_sponsored(url, SETTINGS) == sponsored


def test_a_sponsored_shop_link_says_so_with_the_disclosure_beside_it():
    view = pattern_views()[1]
    page = parse(
        Renderer(site(), theme()).pattern(view)["patterns/groyne-bolster/index.html"].decode()
    )
    links = [a for a in all_of(page, "a") if a.get("href") == view.offer.shop]
    assert links
    assert all("sponsored" in (a.get("rel") or "").split() for a in links)
    assert SETTINGS.disclosure in words(all_of(page, "main")[0])
    plain = replace(
        view, offer=replace(view.offer, shop="https://stall.example.org/x", sponsored=False)
    )
    page = parse(
        Renderer(site(), theme()).pattern(plain)["patterns/groyne-bolster/index.html"].decode()
    )
    assert not [a for a in all_of(page, "a") if "sponsored" in (a.get("rel") or "")]


def test_chapters_of_the_video_stand_beside_the_steps_they_show():
    video = pattern_views()[0].video
    assert {key: [c.title for c in shown] for key, shown in video.beside.items()} == {
        "cover": ["Setting up"],
        "making-up": ["Closing the end"],
    }
    assert [c.title for c in video.chapters] == ["Setting up", "Closing the end", "Talk"]


def test_corrections_are_told_newest_first():
    assert [c.date for c in pattern_views()[0].corrections] == ["2026-11-03", "2026-10-01"]
    assert card(pattern_views()[0]).changed == "2026-11-03"


def test_views_can_be_pickled():
    for view in pattern_views():
        assert pickle.loads(pickle.dumps(view)) == view
        assert pickle.loads(pickle.dumps(card(view))) == card(view)
