"""Items -> phrases: "A and B on C on D, with E" as parts with their roles. No meaning is chosen here."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from interview.reading.lexicon import marked
from interview.reading.matching import Item
from interview.reading.scope import STRONG, Stance

_MEAT = frozenset(("noun", "state", "thing", "uncoated", "piece_word", "unknown"))


@dataclass(frozen=True, slots=True)
class Mention:
    """An item that may answer something, and how the speaker holds it. `place`: its number in the text."""

    item: Item
    stance: Stance
    place: int
    joined_by: str = ""  # the joiner before it: and, or, comma
    article: bool = False  # an article stands before it
    head: bool = True  # nothing but joiners, numbers and articles before it in its clause


@dataclass(slots=True)
class Phrase:
    """`front` on `bases`, `added` with it. `inside`: after "in". `shown`: only seen in a picture."""

    front: list[Mention] = field(default_factory=list)
    bases: list[list[Mention]] = field(default_factory=list)
    added: list[Mention] = field(default_factory=list)
    inside: list[Mention] = field(default_factory=list)
    shown: list[Mention] = field(default_factory=list)
    stuck: list[bool] = field(default_factory=list)  # for each base, whether what it carries was said to be stuck down

    @property
    def empty(self) -> bool:
        return not (self.front or self.bases or self.added or self.inside)

    def mentions(self) -> Iterator[Mention]:
        yield from self.front
        for base in self.bases:
            yield from base
        yield from self.added
        yield from self.inside


@dataclass(slots=True)
class _Builder:
    """Reads items one by one."""

    done: list[Phrase] = field(default_factory=list)
    phrase: Phrase = field(default_factory=Phrase)
    target: list[Mention] = field(default_factory=list)
    home: list[Mention] = field(default_factory=list)  # where a joiner leads back to after an aside
    joiner: str = ""
    head: bool = True
    previous: Item | None = None
    after_article: bool = False

    def __post_init__(self) -> None:
        self.target = self.home = self.phrase.front

    def close(self) -> None:
        if not self.phrase.empty or self.phrase.shown:
            self.done.append(self.phrase)
        self.phrase = Phrase()
        self.target = self.home = self.phrase.front
        self.joiner, self.head = "", True

    def on(self, stuck: bool) -> None:
        """A carrying word: what comes next carries what came before."""
        if self.phrase.bases and self.target is self.phrase.bases[-1]:
            self._hand_over()
        self.phrase.bases.append([])
        self.phrase.stuck.append(stuck)
        self.target = self.home = self.phrase.bases[-1]
        self.joiner = ""

    def _hand_over(self) -> None:
        """ "on paper, ink and gouache on card": what follows the joiner begins a phrase of its own."""
        base = self.phrase.bases[-1]
        cut = next((i for i, m in enumerate(base) if m.joined_by and i), None)
        if cut is None or all(m.item.role in ("state", "mounted_on") for m in base[cut:]):
            return  # "on paper, stuck to card"
        moved, base[cut:] = base[cut:], []
        self.close()
        self.phrase.front.extend(moved)

    def turn(self, target: list[Mention], lasting: bool) -> None:
        self.target = target
        if lasting:
            self.home = target
        self.joiner = ""

    def join(self, joiner: str) -> None:
        if self.target is self.phrase.shown and joiner != "comma":
            return  # "pictures of the kids and the dog"
        self.joiner, self.head = joiner, True
        if self.target is not self.home:
            self.target = self.home

    def take(self, mention: Mention) -> None:
        bases = self.phrase.bases
        if self.target is self.phrase.shown and self._of_the_picture(mention.item):
            self.target = self.home  # "pictures of the kids printed at home"
        listed = bool(bases) and self.target is bases[-1] and bool(bases[-1]) and mention.joined_by
        if listed and (_only_medium(mention.item) or not any(m.item.of("support") for m in bases[-1])):
            self.close()  # "on paper, ink and gouache on card"; "on a box lid, stamps"
        self.target.append(mention)

    def _of_the_picture(self, item: Item) -> bool:
        """Something done to the picture, not something seen on it: "printed", but not "a painted" pebble."""
        done = item.words[0] in marked("done_to")
        return done and self.previous is not None and not self.after_article


def _aspect(item: Item) -> bool:
    """ "colour", "stereo": tells how a film is and names nothing."""
    return item.role == "uncoated" and all(s.value == "aspects" for s in item.senses if s.sort == "uncoated")


def _only_medium(item: Item) -> bool:
    questions = {s.question for s in item.senses if s.sort in ("row", "kind")}
    return questions == {"media"}


def read_phrases(items: tuple[Item, ...], found: list[Stance]) -> list[Phrase]:
    """The phrases of a text, in order."""
    builder = _Builder()
    for place, item in enumerate(items):
        step = _STEPS.get(item.role)
        if item.role == "mounted_on" and any(s.sort == "state" for s in item.senses):
            builder.target.append(Mention(item, found[place], place, builder.joiner))  # "pinned to" says how, too
        if step is not None:
            step(builder, item)
        elif item.role in _MEAT and not _aspect(item):
            builder.take(Mention(item, found[place], place, builder.joiner, builder.after_article, builder.head))
            builder.joiner, builder.head = "", False
        if item.role not in ("article", "plain"):
            builder.previous = item
        builder.after_article = item.role == "article" or (builder.after_article and item.role == "plain")
    builder.close()
    return builder.done


def _at_on(builder: _Builder, item: Item) -> None:
    builder.on(item.role == "mounted_on" or _stuck(builder.previous))


def _at_with(builder: _Builder, item: Item) -> None:
    if item.role == "with" or builder.phrase.bases:
        builder.turn(builder.phrase.added, lasting=True)


def _at_in(builder: _Builder, _: Item) -> None:
    builder.turn(builder.phrase.inside, lasting=False)


def _at_of(builder: _Builder, _: Item) -> None:
    before = builder.previous
    if before is not None and before.words[-1] in marked("depicts") and builder.target is builder.home:
        builder.turn(builder.phrase.shown, lasting=False)


def _at_joiner(builder: _Builder, item: Item) -> None:
    builder.join(item.role)


def _at_plain(builder: _Builder, _: Item) -> None:
    builder.head = False


def _at_mark(builder: _Builder, item: Item) -> None:
    if item.typed in STRONG:
        builder.close()
    elif item.typed in ",:(":
        builder.join("comma")


def _aside(builder: _Builder, item: Item) -> None:
    if item.words == ("to",):
        if _stuck(builder.previous):
            builder.on(stuck=True)
    else:
        builder.turn(builder.phrase.shown, lasting=False)


def _stuck(item: Item | None) -> bool:
    return item is not None and any(s.question in ("paste", "adhesive") and s.value != "laid" for s in item.senses)


_STEPS: dict[str, Callable[[_Builder, Item], None]] = {
    "mark": _at_mark, "on": _at_on, "mounted_on": _at_on, "with": _at_with, "except": _at_with, "in": _at_in,
    "aside": _aside, "of": _at_of, "and": _at_joiner, "or": _at_joiner, "plain": _at_plain,
}  # fmt: skip
