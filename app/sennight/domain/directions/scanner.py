"""Steps through the words of directions, and says where one does not fit."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

LARGEST = 9999
"""No number in directions is larger: a slip of the keyboard, not a dose."""

_LONGEST = 40
"""Letters or figures of one word; Python itself reads no number of more than 4,300 figures."""

_TOKEN = re.compile(
    r"\s*(?:(?P<clock>[0-9]+:[0-9]*)|(?P<number>[0-9]+(?:\.[0-9]+)?)"
    r"|(?P<word>[^\W\d_¼-¾⅐-⅞]+)|(?P<sign>\S))"  # a sign such as ½ is no letter of a word
)
_NOT_OURS = {
    "bid": "bd",
    "tid": "tds",
    "qid": "qds",
    "om": "mane",
    "hs": "nocte",
    "daily": "od",
    "teaspoon": "tsp",
    "tablespoon": "tbsp",
    "hour": "h",
    "hours": "h",
    "week": "w",
    "weeks": "w",
    "month": "mo",
    "months": "mo",
}


class DirectionsError(ValueError):
    """Directions that do not follow the short form.

    `start` and `end` are the offsets, in characters, of the word at fault in the text (equal
    and at its end where something is missing); `expected` says what could stand there.
    """

    def __init__(self, text: str, start: int, end: int, expected: str, why: str = "") -> None:
        self.text, self.start, self.end = text, start, end
        self.expected, self.why = expected, why
        word = text[start:end]
        short = word if len(word) <= _LONGEST else f"{word[:_LONGEST]}…"
        place = f"at “{short}”" if end > start else "at the end"
        note = f"{why}; " if why else ""
        super().__init__(f"{place}: {note}expected {expected}")


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str
    text: str
    start: int
    end: int


def _tokens(text: str) -> list[_Token]:
    tokens = []
    position = 0
    while match := _TOKEN.match(text, position):
        kind = match.lastgroup or "sign"
        tokens.append(_Token(kind, match[kind], match.start(kind), match.end(kind)))
        position = match.end()
    return tokens


class Scanner:
    """A reading point in one text, moved on as words are taken."""

    def __init__(self, text: str) -> None:
        self.text, self.tokens, self.at = text, _tokens(text), 0
        for token in self.tokens:
            if token.end - token.start > _LONGEST:
                expected = f"words and numbers of at most {_LONGEST} letters"
                raise DirectionsError(text, token.start, token.end, expected)

    # What stands at the reading point

    def peek(self, ahead: int = 0) -> str:
        """The word in lower case, or nothing at the end."""
        index = self.at + ahead
        return self.tokens[index].text.lower() if index < len(self.tokens) else ""

    def kind(self, ahead: int = 0) -> str:
        """What sort of word stands there: clock, number, word or sign."""
        index = self.at + ahead
        return self.tokens[index].kind if index < len(self.tokens) else ""

    def fail(self, expected: str, why: str = "") -> DirectionsError:
        """The error for the word at the reading point."""
        if self.at >= len(self.tokens):
            end = len(self.text.rstrip())
            return DirectionsError(self.text, end, end, expected, why)
        token = self.tokens[self.at]
        return DirectionsError(self.text, token.start, token.end, expected, why)

    def hint(self) -> str:
        """What to write instead of a word from elsewhere in the trade."""
        ours = _NOT_OURS.get(self.peek())
        return f"write “{ours}”" if ours else ""

    def expect(self, words: tuple[str, ...] | str, expected: str) -> str:
        """Move past one of these words, and give it in lower case; else fail."""
        if self.peek() not in ((words,) if isinstance(words, str) else words):
            raise self.fail(expected, self.hint())
        self.at += 1
        return self.tokens[self.at - 1].text.lower()

    # Numbers

    def amount(self) -> Fraction:
        """An amount above 0: whole, decimal, fraction, or with a sign such as ½."""
        expected = "an amount such as 2, 2.5, 1/2 or ½"
        start = self.at
        value = self._vulgar()
        if value is None:
            value = self._written(expected)
        if not 0 < value <= LARGEST:
            self.at = start
            raise self.fail(expected, f"an amount is more than 0 and at most {LARGEST}")
        return value

    def _written(self, expected: str) -> Fraction:
        if self.peek() == "." and self.kind(1) == "number":
            raise self.fail(expected, "a point with no figure before it is easily missed")
        if self.kind() != "number":
            raise self.fail(expected)
        value = Fraction(self.peek())
        self.at += 1
        if self.peek() == "," and self.kind(1) == "number":
            raise self.fail(expected, "write the decimal sign as a point")
        if self.peek() == "/" and value.denominator == 1:
            self.at += 1
            return value / self.whole(1, LARGEST, "parts")
        return value + (self._vulgar() or 0)

    def _vulgar(self) -> Fraction | None:
        """A sign such as ½, read as its exact fraction."""
        sign = self.peek()
        spelt = unicodedata.normalize("NFKC", sign).split("\u2044") if len(sign) == 1 else []
        if len(spelt) != 2 or not all(part.isdecimal() for part in spelt):
            return None
        self.at += 1
        return Fraction(int(spelt[0]), int(spelt[1]))

    def whole(self, least: int, most: int, what: str) -> int:
        """A whole number from `least` to `most`, both included."""
        expected = f"{what}, a whole number from {least} to {most}"
        text = self.peek()
        if self.kind() != "number" or "." in text or not least <= int(text) <= most:
            raise self.fail(expected)
        self.at += 1
        return int(text)
