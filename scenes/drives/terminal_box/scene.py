"""The terminal box of a three-phase motor: links and leads on six studs, and what comes of it."""

from __future__ import annotations

from dataclasses import replace
from types import ModuleType

from scenes.drives.terminal_box import board, kinds, picture, question, readings, snapshot
from scenes.drives.terminal_box.motors import PLATES
from scenes.drives.terminal_box.picture import build
from scenes.drives.terminal_box.starter import picture as starter_picture
from scenes.drives.terminal_box.starter import question as starter_question
from scenes.drives.terminal_box.starter import readings as starter_readings
from scenes.drives.terminal_box.starter import settings as starter_settings
from scenes.drives.terminal_box.starter import snapshot as starter_snapshot
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, slow_motion
from scenes.scene.story import Story
from scenes.scene.views import View

SUPPLIES = ("230", "400", "690")


BOARD = (((-0.212, -0.045, 0.0), (0.012, 0.142, 0.03)),)
WINDINGS = (((0.03, -0.115, 0.0), (0.3, 0.12, 0.01)),)
CIRCUIT = (((0.05, -0.038, 0.0), (0.185, 0.11, 0.005)),)  # without the verdict below it, and clear of the buttons
ON_STARTER = {
    "front": (((-0.385, -0.06, 0.0), (0.335, 0.312, 0.03)),),
    "board": (((-0.215, -0.045, 0.0), (0.02, 0.26, 0.03)),),
    "circuit": (((0.075, 0.044, 0.0), (0.21, 0.176, 0.005)),),
}
STARTER_LETTERS = ("Q1", "Q2", "Q3", "figure", *("verdict",) * 2, "timer", "interlock", "supply", "switchgear")
STORIES = {  # by the type of what is set, and by that of what is observed
    snapshot.Setup: (snapshot, picture, readings, question),
    starter_snapshot.Setup: (starter_snapshot, starter_picture, starter_readings, starter_question),
}


def story(setup) -> tuple[ModuleType, ...]:
    """Snapshot, picture, readings and question of what is set: joined by hand, or on the starter."""
    return STORIES[type(setup)]


class TerminalBox(Story, parts=(kinds,)):
    name = "terminal-box"
    title = "The terminal box: star, delta and every mistake"
    principle = (
        "Links and leads decide what each winding gets: in star the line voltage over the root of three, in delta all of it. The plate "
        "says what it is made for."
    )
    controls = (
        Choice("by", "Windings joined", "hand", (("hand", "by links"), ("starter", "by a starter"))),
        *board.controls(),
        *starter_settings.controls(),
        Choice("plate", "Plate of the motor", "230/400", tuple((name, plate.words) for name, plate in PLATES.items())),
        Choice("supply", "Supply, between lines", "400", tuple((volts, f"{volts} V") for volts in SUPPLIES)),
        Choice("hertz", "Frequency of the supply", "50", (("50", "50 Hz"), ("60", "60 Hz"))),
        common_controls.load(50.0),
        Choice("asked", "The question is about", "turns", question.ASKED, only_with=board.BY_HAND),
        phases.colours(),
        slow_motion("20", ("1", "5", "10", "20", "50", "100")),
    )
    subject = (((-0.228, -0.196, 0.0), (0.298, 0.142, 0.03)),)
    letters = ("verdict",) * 3 + ("figure", "main switch", "switchgear", "supply")
    views = (
        View("front", "into the box", (0.0, -0.25, -1.0)),
        View("board", "the board from near", (0.0, -0.3, -1.0), subject=BOARD, letters=("verdict",) * 3),  # the others name what is below
        View("circuit", "the windings from near", (0.0, -0.2, -1.0), subject=CIRCUIT),
    )
    picks = picture.PICKS
    caution = (
        "The main switch is a switch-disconnector made for motors: a plain isolator is never opened or closed under load. Isolate, "
        "lock off, prove dead at the terminals and let capacitors discharge before the cover comes off; links and leads are "
        "moved with the supply off only, and no interlock is ever bridged. Work on a supply is for a locally licensed person, by the "
        "local code and the maker's diagram."
    )
    not_told = ("joined",)  # its words name the mistake; links and leads are told in the question
    leaves_out = (
        "Joined by links, only steady currents: each switching has a transient besides, nearly twice as high, gone in a few cycles.",
        "On the starter the iron does not saturate, all contacts of a contactor close at once and open without an arc.",
        "Iron, friction of the air and stray losses; bearings take 1 % of rated torque.",
        "Saturated currents are not sinusoidal; only their fundamental is reckoned, by a magnetising curve that is assumed.",
        "Heat that flows off the windings, so their times hold for fast heating alone; the relay is one strip with one time constant.",
    )
    narration = (
        "Six studs, three links, three leads: joined in star or in delta the same motor fits two voltages, and joined wrongly it burns."
    )

    build = staticmethod(build)
    setup_of = staticmethod(lambda settings: (starter_snapshot if settings["by"] == "starter" else snapshot).Setup.of(settings))
    begin = staticmethod(lambda setup: story(setup)[0].begin(setup))
    advance = staticmethod(lambda setup, state, seconds: story(setup)[0].advance(setup, state, seconds))
    observe = staticmethod(lambda setup, state: story(setup)[0].observe(setup, state))
    place = staticmethod(lambda drawn, now, look: story(now.setup)[1].place(drawn, now, look))
    readings_of = staticmethod(lambda now, look: story(now.setup)[2].readings(now, look))
    sentence = staticmethod(lambda now, look: story(now.setup)[3].sentence(now, look))
    question_of = staticmethod(lambda now, look: story(now.setup)[3].question(now, look))
    workings_of = staticmethod(readings.workings)

    @staticmethod
    def random_setup(random) -> dict:
        return (starter_question if random.random() < 0.3 else question).random_setup(random)

    @property
    def eye(self) -> View:
        """The present view; the starter stands above the box, so there it takes in more."""
        view = super().eye
        if self["by"] == "hand":
            return view
        return replace(view, subject=ON_STARTER[view.name], letters=STARTER_LETTERS)

    @property
    def runs_up(self) -> bool:
        """On the starter it is the start that is shown."""
        return self["by"] == "hand"

    def shown_whole(self, passed: float) -> bool:
        return story(self.setup)[0].shown_whole(self.setup, self.state)

    def set(self, name: str, value) -> None:
        """Set one control; choosing to set links or leads oneself begins from what is there, and a starter comes with a motor for it."""
        before, leads = board.joining_of(self.settings), starter_settings.leads_of(self.settings)
        super().set(name, value)
        if self.sets_several:
            return
        if name == "joined" and value == board.OWN:
            super().set_all(board.as_settings(before))
        elif name == "way" and value == board.OWN:
            super().set_all(starter_settings.as_settings(leads))
        elif name == "by" and value == "starter":
            for plate, each in PLATES.items():
                if each.fits(float(self["supply"])) == "delta":
                    super().set("plate", plate)

    def join(self, first: str, second: str) -> None:
        """Press two studs, or a lead and a stud, or drag one to the other."""
        if self["by"] == "starter":
            leads = starter_settings.touched(self.setup.leads, first, second)
            self.set_all({"way": board.OWN} | starter_settings.as_settings(leads))
        else:
            joining = board.touched(self.setup.joining, first, second)
            self.set_all({"joined": board.OWN} | board.as_settings(joining))

    def changed(self, name: str) -> None:
        """Whatever is joined anew is joined with the isolator open."""
        super().changed(name)
        self.picks = starter_picture.PICKS if self["by"] == "starter" else picture.PICKS
        if name not in ("slow", "asked", "asked-starter", "colours"):
            self.restart()
