"""From a length to what can be made: the longest piece of a pattern's rhythm that yarn allows."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from stripewright.compute.piece_context import decider, ends_of
from stripewright.compute.rows import StripeRows as Rows
from stripewright.compute.rows import build_stripes, merged, share
from stripewright.compute.work import work
from stripewright.pattern.run import MOST_ROWS, Run
from stripewright.pattern.stripes import MOST_STRIPES
from stripewright.source.document import Document

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.amounts import YarnAmount
    from stripewright.pattern.settings import Settings

_ENOUGH = 1 + 1e-9


@dataclass(frozen=True, slots=True)
class YarnAtHand:
    """Yarn that there is: of one of the pattern's yarns, or of all of them together."""

    yarn: str
    """A key, or "" for all together."""
    amount: YarnAmount


@dataclass(frozen=True, slots=True)
class LongestPiece:
    """The longest a piece can be, knitted as often as the pattern makes it."""

    key: str
    title: str
    make: int
    rows: int
    """Visible rows; 0 where the yarn is not enough for one."""
    length_cm: float
    takes_g: float | None
    takes_m: float
    whole_repeats: int
    """How often the stripes are knitted in full."""
    with_margin_rows: int
    """Visible rows when the pattern's margin is kept back."""
    with_margin_cm: float


def longest(
    worked: WorkedPattern, at_hand: Sequence[YarnAtHand], settings: Settings
) -> list[LongestPiece]:
    """The longest that each striped piece can be, by itself, to the last whole row.

    Its stripes go on in their order, again and again; parts share a longer or shorter length.

    Args:
        worked: the pattern.
        at_hand: what yarn there is.
        settings: the studio's.
    """
    return [
        _Longest(worked, piece, at_hand, settings).found()
        for piece in worked.pieces
        if piece.lining_of is None
    ]


class _Longest:
    """Looks for the most rows of one piece."""

    def __init__(
        self,
        worked: WorkedPattern,
        piece: WorkedPiece,
        at_hand: Sequence[YarnAtHand],
        settings: Settings,
    ) -> None:
        self.worked, self.piece = worked, piece
        self.written = worked.pattern.pieces[piece.key]
        self.at_hand, self.settings = at_hand, settings
        self.once = self._once()

    def _once(self) -> list[Rows]:
        """The stripes as they are written once, with their rows."""
        stripes = self.written.stripes
        plain = stripes and not any(part.by_yarn for part in build_stripes(stripes))
        if plain and stripes:
            return [Rows(part.yarn, int(part.count)) for part in build_stripes(stripes)]
        return [Rows(line.yarn, line.visible) for line in self.piece.plan]

    def _rhythm(self, rows: int) -> list[Rows]:
        """So many rows of it: cut where they end, or shared out anew."""
        if self.written.parts is not None:
            parts = build_stripes(self.written.parts)
            leasts = [part.least or self.written.least for part in parts]
            if rows >= sum(leasts):
                counts = share(rows, [part.count for part in parts], leasts)
                return [Rows(p.yarn, n) for p, n in zip(parts, counts, strict=True)]
        found: list[Rows] = []
        while rows > 0:
            for one in self.once:
                if rows > 0:
                    found.append(Rows(one.yarn, min(one.rows, rows)))
                    rows -= one.rows
        return found

    def _worked(self, rows: int) -> WorkedPattern | None:
        stripes = merged(self._rhythm(rows))
        if len(stripes) > MOST_STRIPES:
            return None
        runs = tuple(Run(yarn=one.yarn, count=one.rows) for one in stripes)
        fold = decider(self.worked.pattern.pieces, self.piece.key, "fold").fold
        piece = self.written.model_copy(update={
            "form": self.piece.form, "stripes": runs, "parts": None, "yarn": None, "like": None,
            "length": None, "rows": None, "repeats": "exact", "openings": (), "attach": None,
            "needles": self.piece.stitches if self.piece.form == "panel" else None,
            "machine": self.piece.machine, "sides": self.piece.sides,
            "ends": ends_of(self.worked.pattern.pieces, self.piece.key),
            "fold": fold if fold == "half" and rows > 1 else None,
            "brim": None,  # turned up it takes no yarn; doubled, its rows are among the ends'
        })  # fmt: skip
        alone = self.worked.pattern.model_copy(
            update={
                "pieces": {self.piece.key: piece},
                "join": (),
                "making_up": None,
                "sizes": {},
                "fit": None,
            }
        )
        slug = self.worked.slug
        return work(alone, Document(slug, {}), self.settings, slug)[0]

    def _fits(self, rows: int, share_kept: float) -> bool:
        worked = self._worked(rows)
        return worked is not None and all(
            takes_of(worked, one) * (1 + share_kept) <= there_is(one) * _ENOUGH
            for one in self.at_hand
        )

    def _most(self, share_kept: float) -> int:
        """The most rows that fit: what is taken grows with the rows."""
        if not self._fits(1, share_kept):
            return 0
        low, high = 1, 2
        while high <= MOST_ROWS and self._fits(high, share_kept):
            low, high = high, high * 2
        high = min(high, MOST_ROWS + 1)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self._fits(middle, share_kept) else (low, middle)
        return low

    def found(self) -> LongestPiece:
        """The longest it can be, without and with the margin."""
        rows, kept = self._most(0.0), self._most(self.worked.pattern.margin)
        per_cm = self.worked.gauge.rows_per_cm
        made = self._worked(rows) if rows else None
        grams, metres = totals(made) if made else (None, 0.0)
        once = sum(one.rows for one in self.once)
        return LongestPiece(self.piece.key, self.piece.title, self.piece.make, rows, rows / per_cm,
                            grams, metres, 0 if self.written.parts else rows // once,
                            kept, kept / per_cm)  # fmt: skip


def there_is(one: YarnAtHand) -> float:
    """What there is, in g where it is weighed, else in m."""
    return one.amount.mass_g if one.amount.mass_g is not None else one.amount.length_m or 0.0


def takes_of(worked: WorkedPattern, one: YarnAtHand) -> float:
    """What a pattern takes of it, in g where it is weighed, else in m; endless where unknown."""
    total = 0.0
    for yarn in worked.yarns:
        if yarn.marl or one.yarn not in ("", yarn.key) or not yarn.length_m:
            continue
        if one.amount.mass_g is None:
            total += yarn.length_m.value
        elif yarn.length_m.value:
            total += yarn.mass_g.value if yarn.mass_g else inf
    return total


def totals(worked: WorkedPattern) -> tuple[float | None, float]:
    """What a pattern takes of all its yarns together, in g (None where unknown) and in m."""
    plain = [one for one in worked.yarns if not one.marl and one.length_m and one.length_m.value]
    masses = [one.mass_g.value for one in plain if one.mass_g]
    metres = sum(one.length_m.value for one in plain if one.length_m)
    return (sum(masses) if len(masses) == len(plain) else None), metres
