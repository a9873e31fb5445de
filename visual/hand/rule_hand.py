"""The hand of a rule, and in its place one as a usual mistake holds it: in a grey glove, with the mistake's name behind its wrist and
what it gives crossed out."""

from __future__ import annotations

from visual.hand.hand_on_bench import FlemingHand, GripHand, crossed_out
from visual.hand.hands import Glove
from visual.solid.solids import Group, Solid

GREY = Glove((0.60, 0.62, 0.64), (0.30, 0.31, 0.33), (0.12, 0.12, 0.13))


class RuleHand(Group):
    """A hand of `size` metres for the rule of the hand `side`, with `letters` and `colours` at thumb, first and second finger."""

    def __init__(self, side: str, size: float, letters: tuple[str, str, str], colours):
        super().__init__()
        self.size, self.letters, self.colours = size, letters, colours
        self.held = self.add(FlemingHand(side, size, letters, colours))
        self._mistaken: dict[tuple[str, str], FlemingHand] = {}  # by side and mistake, each made when it is first shown

    @property
    def solid(self) -> Solid:
        return self.held.solid

    def put(self, pos, hand, conductor=None) -> None:
        """As `FlemingHand.put`. A hand with a `mistake` also says which of the rule's fingers (0 thumb, 1 first, 2 second) each of
        its three stands for (`stands_for`), which of them gives the answer (`gives`), and which lies against its quantity
        (`against`, or None)."""
        wrong = self._held_by(hand) if hand is not None and hand.mistake else None
        self.held.put(pos, hand if wrong is None else None, conductor)
        for each in self._mistaken.values():
            each.put(pos, hand if each is wrong else None, conductor)

    def _held_by(self, hand) -> FlemingHand:
        key = hand.side, hand.mistake
        if key not in self._mistaken:
            said = [
                f"\N{MINUS SIGN}{self.letters[of]}" if finger == hand.against else self.letters[of]
                for finger, of in enumerate(hand.stands_for)
            ]
            said[hand.gives] = crossed_out(said[hand.gives])
            colours = [self.colours[of] for of in hand.stands_for]
            thumb, first, second = said
            self._mistaken[key] = self.add(
                FlemingHand(hand.side, self.size, (thumb, first, second), colours, glove=GREY, mistake=hand.mistake)
            )
        return self._mistaken[key]


class RuleGrip(Group):
    """A right hand of `size` metres that grips a wire, with `letters` and colours at thumb and fingers."""

    def __init__(self, size: float, letters: tuple[str, str], thumb_colour, finger_colour):
        super().__init__()
        self.size, self.letters, self.colours = size, letters, (thumb_colour, finger_colour)
        self.held = self.add(GripHand(size, letters, thumb_colour, finger_colour))
        self._mistaken: dict[tuple[str, str], GripHand] = {}

    @property
    def solid(self) -> Solid:
        return self.held.solid

    def put(self, pos, grip, wrist) -> None:
        """Close it round the line through `pos`, m, its thumb along `grip.thumb`; hide it for None. A grip with a `mistake` also says
        whether its thumb lies `against` the current."""
        wrong = self._held_by(grip) if grip is not None and grip.mistake else None
        for each in (self.held, *self._mistaken.values()):
            shown = grip is not None and each is (wrong or self.held)
            each.put(pos, grip.thumb if shown else (0.0, 0.0, 0.0), wrist)

    def _held_by(self, grip) -> GripHand:
        key = grip.side, grip.mistake
        if key not in self._mistaken:
            current, field = self.letters
            said = (f"\N{MINUS SIGN}{current}" if grip.against else current, crossed_out(field))
            self._mistaken[key] = self.add(GripHand(self.size, said, *self.colours, grip.side, glove=GREY, mistake=grip.mistake))
        return self._mistaken[key]
