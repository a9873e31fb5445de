"""A student's progress over the weeks: how much was right, by scene and by kind, which mistakes were made, and what is known by now.

All of it follows from the kept answers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from scenes import catalogue
from scenes.practice.practice import kinds_in, waiting
from scenes.practice.results import Answer
from scenes.questions.mistakes import listed, parted
from visual.host import messages

WEEKS = 8  # of the present one and those before it


@dataclass(frozen=True)
class Share:
    """So many of so many answers were right."""

    right: int
    asked: int

    def __str__(self) -> str:
        return f"{self.right} of {self.asked} right" if self.asked else "none"


@dataclass(frozen=True)
class Topic:
    """A scene: its title, its answers, the kinds that are known, those that come back, and how many there are."""

    title: str
    share: Share
    known: int
    coming_back: int
    kinds: int


@dataclass(frozen=True)
class Mistake:
    """A usual mistake, or several among which an answer does not tell: in words, and how often it was made in each of the weeks."""

    name: str
    by_week: tuple[int, ...]


@dataclass(frozen=True)
class Progress:
    """Weeks by their Mondays, the last one the present; the share of each; topics in the order of the lesson; mistakes, the most
    frequent first."""

    weeks: tuple[date, ...]
    shares: tuple[Share, ...]
    topics: tuple[Topic, ...]
    mistakes: tuple[Mistake, ...]


def progress(answers: Sequence[Answer], today: date) -> Progress:
    """Of all answers; the weeks are those up to `today`, from the first with an answer. Mistakes that give the same
    answer are counted together."""
    last = _monday(today)
    begun = min((_monday(_day(answer)) for answer in answers), default=last)
    weeks = tuple(last - timedelta(weeks=back) for back in reversed(range(WEEKS)) if not back or last - timedelta(weeks=back) >= begun)
    in_week = [[answer for answer in answers if _monday(_day(answer)) == week] for week in weeks]
    made = [Counter(listed(parted(answer.mistake)) for answer in each if answer.mistake) for each in in_week]
    names = sorted(set().union(*made), key=lambda name: (-sum(each[name] for each in made), name))
    return Progress(
        weeks,
        tuple(map(_share, in_week)),
        tuple(_topic(name, answers) for name in catalogue.NAMES if any(answer.scene == name for answer in answers)),
        tuple(Mistake(name, tuple(each[name] for each in made)) for name in names),
    )


def _day(answer: Answer) -> date:
    return datetime.fromisoformat(answer.when).date()


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _written(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def _share(answers: Iterable[Answer]) -> Share:
    found = [answer.right for answer in answers]
    return Share(sum(found), len(found))


def _topic(name: str, answers: Sequence[Answer]) -> Topic:
    own = [answer for answer in answers if answer.scene == name]
    # what only tells mistakes apart comes besides, and was not wrong
    back = {kind for (scene, kind), wait in waiting(answers).items() if scene == name and not wait.apart}
    # known: right the last time, and nothing of it comes back
    latest = {answer.kind: answer.right for answer in own}
    known = [kind for kind, right in latest.items() if right and kind not in back]
    return Topic(catalogue.scene_class(name).title, _share(own), len(known), len(back), len(kinds_in(name)))


def described(found: Progress) -> messages.Progress:
    """As plain data, for the page."""
    return {
        "weeks": [_written(week) for week in found.weeks],
        "shares": [{"right": share.right, "asked": share.asked} for share in found.shares],
        "topics": [
            {
                "title": topic.title,
                "right": topic.share.right,
                "asked": topic.share.asked,
                "known": topic.known,
                "coming_back": topic.coming_back,
                "kinds": topic.kinds,
            }
            for topic in found.topics
        ],
        "mistakes": [{"name": mistake.name, "by_week": list(mistake.by_week)} for mistake in found.mistakes],
    }


def in_words(found: Progress) -> list[str]:
    """As lines of text."""
    lines = ["By week, from its Monday:"]
    lines += [f"  {_written(week)}  {share}" for week, share in zip(found.weeks, found.shares, strict=True) if share.asked]
    lines.append("By topic:")
    for topic in found.topics:
        back = f", {topic.coming_back} to come back" if topic.coming_back else ""
        lines.append(f"  {topic.title}: {topic.share}; {topic.known} of {topic.kinds} kinds of question known{back}")
    if found.mistakes:
        lines.append(
            f"Mistakes in first answers, in {WEEKS} weeks up to the present one; where an answer could come from several, together:"
        )
        lines += [f"  {mistake.name}: {sum(mistake.by_week)}, this week {mistake.by_week[-1]}" for mistake in found.mistakes]
    return lines
