"""`thumbwise ask SCENE`: a scene's question and its answer, without a browser."""

from __future__ import annotations

from scenes.command_line import Parser, add_json, add_scene, print_json, scene_set_up, settings

SUMMARY = "ask a scene's question of a set-up and answer it, without a browser"


def run(arguments: list[str]) -> None:
    parser = Parser("thumbwise ask", description="Ask a scene's question of a set-up and answer it, without a browser.")
    add_scene(parser)
    add_json(parser)
    wanted = parser.parse_args(arguments)
    question = scene_set_up(wanted.scene, settings(wanted.set)).question()
    if wanted.json:
        choices = [{"value": value, "words": words} for value, words in question.choices]
        print_json({"question": question.text, "choices": choices, "answer": question.answer, "reason": question.reason})
        return
    print(question.text)
    print("  " + " | ".join(words for _, words in question.choices))
    print(f"{dict(question.choices)[question.answer].capitalize()}. {question.reason}")
