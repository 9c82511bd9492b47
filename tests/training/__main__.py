"""Teach the reader from our own lines.

    python -m tests.training [NAME ...]     make the weights anew (all models, or those named)
    python -m tests.training --unseen NAME  how well lines are read whose hand the model has not seen

Needs scikit-learn: `pip install -e .[training]`.
"""

from __future__ import annotations

import argparse

from interview.reading.learned import FOLDER, Model, shares
from knowledge.loading import load
from tests.training.fitting import Example, fit, save
from tests.training.lines import LESSONS, Lesson


def told(model: Model, example: Example, *, one: bool) -> frozenset[str]:
    """The labels the model gives."""
    scores = model.scores(example.features)
    best = next(iter(shares(scores)))
    return frozenset((best,)) if one else frozenset(s for s in scores if scores[s] > 0) or frozenset((best,))


def unseen(lesson: Lesson) -> None:
    """Each hand's lines by a model of the others' lines."""
    examples = lesson.examples(load())
    for hand in sorted({example.hand for example in examples}):
        model = fit([e for e in examples if e.hand != hand], lesson.settings)
        lines = [e for e in examples if e.hand == hand]
        right = sum(told(model, e, one=lesson.settings.one) == e.labels for e in lines)
        print(f"  {hand:20} {right} of {len(lines)} ({right / len(lines):.3f})", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("names", nargs="*", choices=(*LESSONS, []))
    parser.add_argument("--unseen", action="store_true")
    given = parser.parse_args()
    for name in given.names or LESSONS:
        lesson = LESSONS[name]
        if given.unseen:
            print(name)
            unseen(lesson)
            continue
        model = fit(lesson.examples(load()), lesson.settings, lesson.digest())
        path = FOLDER / f"{name}.bin"
        save(model, path)
        print(f"{name}: {len(model.labels)} labels, {len(model.weights)} weights, {path.stat().st_size // 1024} kB")


if __name__ == "__main__":
    main()
