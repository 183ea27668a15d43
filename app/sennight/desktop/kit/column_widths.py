"""How the columns of a list share its width."""

from __future__ import annotations

from collections.abc import Sequence


def shared_out(width: int, shares: Sequence[int], wanted: Sequence[int]) -> list[int]:
    """How wide each column is; all in pixels.

    They share the width as `shares` says. What a column has beyond what it wants goes to those
    that have less than they want, first to the first, which names the row, then to the smallest
    needs. Where that is not enough, those that end in … anyhow give up to a third of theirs to
    the first, and the one that lacks most up to a third to those that are whole then. Nothing
    `wanted` is nothing known.
    """
    widths = [width * share // sum(shares) for share in shares]
    if len(wanted) != len(shares):
        return widths
    lacks = {n: want - widths[n] for n, want in enumerate(wanted) if shares[n]}
    needs = sorted((n > 0, lack, n) for n, lack in lacks.items() if lack > 0)
    spare = {n: -lack for n, lack in lacks.items() if lack < 0}
    left = over = sum(spare.values())
    for place, (is_after, lack, column) in enumerate(needs):
        more = min(lack, left // (len(needs) - place) if is_after else left)
        widths[column] += more
        left -= more
    given, taken = over - left, 0
    for column, room in spare.items():
        less = min(-(-given * room // over), given - taken)
        widths[column] -= less
        taken += less
    return _made_whole(widths, wanted, [column for *_, column in needs])


def _made_whole(widths: list[int], wanted: Sequence[int], short: Sequence[int]) -> list[int]:
    """Of columns whose texts are cut, the longest gives way to those that lack little."""
    _first_whole(widths, wanted, [column for column in short if column])
    by_lack = sorted(short, key=lambda column: wanted[column] - widths[column])
    if len(by_lack) > 1:
        *others, longest = by_lack
        may_give = widths[longest] // 3
        for column in others:
            lack = max(0, wanted[column] - widths[column])
            if lack > may_give:
                break
            widths[column] += lack
            widths[longest] -= lack
            may_give -= lack
    return widths


def _first_whole(widths: list[int], wanted: Sequence[int], short: Sequence[int]) -> None:
    """What names the row is whole before others that are cut anyhow; each gives up to a third."""
    lack = max(0, wanted[0] - widths[0])
    for place, column in enumerate(short):
        given = min(widths[column] // 3, -(-lack // (len(short) - place)))
        widths[column] -= given
        widths[0] += given
        lack -= given
