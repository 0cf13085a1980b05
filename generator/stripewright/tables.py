"""A worksheet's numbers as tables on a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stripewright.catalogue import N_, _, n_, speaking
from stripewright.figures import Figures, counted, listed
from stripewright.view.numbers import materials_of, numbers
from stripewright.view.pieces import EventRow

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.compute.reach import LongestPiece
    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.view.materials import MaterialView
    from stripewright.view.numbers import Events
    from stripewright.view.pieces import PieceView
    from stripewright.view.recorded import TableView
    from stripewright.words.written import PatternText


_SOURCES = {
    "swatch": N_("the weighed swatch"),
    "unravelled": N_("the stitches unravelled from the swatch"),
    "band": N_("the ball's band and the yarn's weight"),
    "gauge": N_("the gauge alone"),
}
"""Of `WorkedPattern.loop_source`."""


def show_worksheet(
    worked: WorkedPattern, settings: Settings, written: PatternText, named: str | None = None
) -> None:
    """Print a pattern's numbers: the plan of each piece, the yarn to buy, and what else it takes.

    Figures are told as the site's pages tell them; in tables, in the studio's own units alone.

    Args:
        worked: the pattern with its sizes, or one of them alone.
        settings: the studio's.
        written: its words.
        named: what that one size is called, "" for the written one; None where there is but one.
    """
    with speaking(settings.words):
        console = Console(highlight=False)
        if worked.sizes:
            named = worked.size_title("base")
        if named is not None:
            _line(console, named or _("As written"))
        _show(worked, settings, written.events)
        for size in worked.sizes:
            _line(console, f"\n{size.title}")
            _show(size.worked, settings, written.sizes[size.key].events)


def _line(console: Console, text: str) -> None:
    console.print(text, soft_wrap=True, markup=False)


def _show(worked: WorkedPattern, settings: Settings, events: Events) -> None:
    shown, console = numbers(worked, settings, events), Console(highlight=False)
    for size in shown.sizes:
        _line(console, f"{size.title}: {size.text}" + (f" ({size.note})" if size.note else ""))
    if shown.fits:
        _line(console, f"{_('Fits')}: {shown.fits}")
    for piece in shown.pieces:
        _show_piece(console, piece)
    heads = _("key"), _("yarn"), _("it takes"), _("which is"), _("to buy"), _("cost")
    table = _table(*heads, _("left over"), left=2)
    for yarn in shown.materials:
        table.add_row(*_yarn(yarn))
    console.print(table)
    for yarn in shown.materials:
        for other in yarn.others:
            _line(console, _("{yarn}: or {other}", yarn=yarn.letter, other=other))
    figures = Figures.of(settings)
    for told in (
        _reckoned(worked, figures),
        _close_colours(worked),
        _of_the_stash(worked, figures),
    ):
        for line in told:
            _line(console, line)
    if shown.cost:
        _line(console, _("All yarn: {cost}", cost=shown.cost))
    for way in worked.colourways:
        _line(console, f"{way.title}: {_bought(way.worked, settings)}")
    for one in shown.supplies:
        _line(console, one.name + (f": {one.amount}" if one.amount else ""))


def _bought(worked: WorkedPattern, settings: Settings) -> str:
    """The yarns of a colourway as they are bought, and what they cost."""
    materials, whole = materials_of(worked, settings)
    bought = [
        f"{yarn.letter} {yarn.name}" + (f", {yarn.buy.text}" if yarn.buy else "")
        for yarn in materials
    ]
    return "; ".join([*bought, *([_("All yarn: {cost}", cost=whole)] if whole else [])])


def _show_piece(console: Console, piece: PieceView) -> None:
    _line(console, _about(piece))
    for more in (piece.reach, piece.brim):
        if more:
            _line(console, str(more))
    console.print(_plan(piece))
    for made_from in piece.tables:
        _show_records(console, made_from)


def _reckoned(worked: WorkedPattern, figures: Figures) -> Iterator[str]:
    """What amounts of yarn are reckoned from, and how far off those may be that are estimated."""
    yield _("Yarn is reckoned from {source}.", source=_(_SOURCES[worked.loop_source]))
    for yarn in worked.yarns:
        if (length := yarn.length_m) and length.estimated:
            yield _(
                "{yarn}: between {low} and {high}",
                yarn=yarn.letter,
                low=figures.measure("m", length.low),
                high=figures.measure("m", length.high),
            )


def _close_colours(worked: WorkedPattern) -> Iterator[str]:
    """How far colours are apart that some can't tell from each other, the nearest of each pair."""
    letters = {yarn.key: yarn.letter for yarn in worked.yarns}
    nearest: dict[tuple[str, ...], float] = {}
    for clash in worked.clashes:
        pair = tuple(sorted((letters[clash.first], letters[clash.second])))
        nearest[pair] = min(clash.difference, nearest.get(pair, clash.difference))
    for (one, other), apart in nearest.items():
        yield _(
            "{one} and {other}: {apart} apart (CIEDE2000) for those who see them alike",
            one=one,
            other=other,
            apart=f"{apart:.1f}",
        )


def _of_the_stash(worked: WorkedPattern, figures: Figures) -> Iterator[str]:
    """What is left of yarns of which all is knitted: for the author, and on no page."""
    names = {yarn.key: yarn.name for yarn in worked.yarns}
    for one in {one.yarn: one for one in worked.amounts if one.text == "all"}.values():
        reach = one.metres_per_gram or 1.0
        yield _(
            "{yarn}: all of {amount} that the stash has; {left} left over",
            yarn=names[one.yarn],
            amount=figures.measure("g", one.given_m / reach),
            left=figures.measure("m", one.left_m),
        )


def show_longest(
    found: Sequence[LongestPiece], at_hand: Sequence[str], margin: float, settings: Settings
) -> None:
    """Print the longest that each piece can be with some yarn."""
    figures, console = Figures.of(settings), Console(highlight=False)
    with speaking(settings.words):
        head = _("With {yarns}, each piece by itself:", yarns=listed(at_hand))
        console.print(f"\n{head}", markup=False)
        share = figures.number(margin * 100, 1)
        for one in found:
            _line(console, _longest(one, share, figures))


def _longest(one: LongestPiece, share: str, figures: Figures) -> str:
    title = one.title
    if one.make > 1:
        title = _("{piece}, {number} of them", piece=title, number=one.make)
    if not one.rows:
        return _("{piece}: not even one row", piece=title)
    takes = str(figures.measure("m", one.takes_m))
    if one.takes_g is not None:
        takes = f"{takes}, {figures.measure('g', one.takes_g)}"
    rows = counted(one.rows, "row", "rows")
    told = _(
        "{rows}, {length} long at the most", rows=rows, length=figures.measure("cm", one.length_cm)
    )
    if one.whole_repeats:
        full = n_(
            "its stripes {number} time in full",
            "its stripes {number} times in full",
            one.whole_repeats,
        )
        told = f"{told}, {full}"
    kept = _("no row")
    if one.with_margin_rows:
        length = figures.measure("cm", one.with_margin_cm)
        kept = f"{counted(one.with_margin_rows, 'row', 'rows')}, {length}"
    return _(
        "{piece}: {most}; that takes {yarn}. With the margin of {share} % kept: {kept}.",
        piece=title,
        most=told,
        yarn=takes,
        share=share,
        kept=kept,
    )


def _about(piece: PieceView) -> str:
    title = piece.title
    if piece.make > 1:
        title = _("{piece}, knit {number}", piece=title, number=piece.make)
    return _(
        "{piece}: {form}, {stitches} stitches, {worked} rows worked, {visible} visible, {size}",
        piece=title,
        form=_(piece.form),
        stitches=piece.stitches,
        worked=piece.worked_rows,
        visible=piece.visible_rows,
        size=f"{piece.width} × {piece.length}",
    )


def _plan(piece: PieceView) -> Table:
    table = _table(_("stripe"), _("yarn"), _("rows"), _("from"), _("to"), _("counter"), left=2)
    for row in piece.rows:
        if isinstance(row, EventRow):
            table.add_row("", Text(row.title, style="italic"), "", "", "", row.reading)
            for time in row.again:
                until = ", ".join(f"{one.letter} {one.reading}" for one in time.rows)
                table.add_row("", Text(f"{time.number}: {until}"), "", "", "", "")
            continue
        spans = (str(number) for number in (row.rows, row.first, row.last))
        what = f"{row.what}, {row.given}" if row.given else row.what
        table.add_row(row.letter, Text(what), *spans, row.reading)
    return table


def _show_records(console: Console, made_from: TableView) -> None:
    """Which yarn for which values, and each record's rows."""
    _line(console, made_from.title)
    for band in made_from.legend:
        _line(console, f"{band.letter} {band.yarn}: {band.values}, {band.records}")
    _line(console, made_from.each)
    for row in made_from.records:
        _line(console, f"{row.what}, {row.value}: {row.letter}, {row.rows}")


def _table(*heads: str, left: int) -> Table:
    table = Table()
    for number, head in enumerate(heads):
        table.add_column(head, justify="left" if number < left else "right")
    return table


def _yarn(yarn: MaterialView) -> list[str | Text]:
    length = f"{yarn.about}{yarn.length.own}" if yarn.length else "–"
    mass, buy = yarn.mass.own if yarn.mass else "–", yarn.buy
    if buy is None:
        return [yarn.letter, Text(yarn.name), length, mass, "–", "–", "–"]
    leftover = buy.leftover.own if buy.leftover else "–"
    bought = f"{buy.balls} × {buy.ball.own}"
    return [yarn.letter, Text(yarn.name), length, mass, bought, buy.cost or "–", leftover]
