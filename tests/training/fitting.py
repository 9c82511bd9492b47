"""A linear model over features, and its weights as a file. Needs scikit-learn: `pip install -e .[training]`."""

from __future__ import annotations

import json
from array import array
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from zlib import crc32

from interview.reading.learned import Features, Model

SEED, STEPS = 7, 127


@dataclass(frozen=True, slots=True)
class Example:
    """A line of ours with what holds of it. hand: who wrote it. weight: how much it counts."""

    features: Features
    labels: frozenset[str]
    hand: str = ""
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Settings:
    """`one`: exactly one label holds of a line, else any number. strength: how closely the lines are followed.

    least: lines that must hold a feature. prune: weights of fewer steps are left out.
    """

    one: bool
    strength: float
    least: int = 1
    prune: int = 1


def fit(examples: Sequence[Example], settings: Settings, digest: str = "") -> Model:
    """The same examples give the same weights."""
    labels = sorted({label for example in examples for label in example.labels})
    columns = _columns(examples, settings.least)
    x = _matrix(examples, columns)
    rows, starts = (_one if settings.one else _any)(x, examples, labels, settings.strength)
    return _packed(labels, rows, starts, (sorted(columns), digest, settings.prune))


def _matrix(examples: Sequence[Example], columns: dict[int, int]) -> Any:
    from scipy.sparse import csr_matrix

    starts, places, values = [0], [], []
    for example in examples:
        for feature, value in example.features.weighed():
            place = columns.get(crc32(feature.encode()))
            if place is not None:
                places.append(place)
                values.append(value)
        starts.append(len(places))
    return csr_matrix((values, places, starts), shape=(len(examples), len(columns)))


def _columns(examples: Iterable[Example], least: int) -> dict[int, int]:
    counts: Counter[int] = Counter()
    for example in examples:
        counts.update({crc32(feature.encode()) for feature, _ in example.features.weighed()})
    return {key: place for place, key in enumerate(sorted(k for k, n in counts.items() if n >= least))}


def _one(x: Any, examples: Sequence[Example], labels: list[str], strength: float) -> tuple[Any, Any]:
    """Margins between the labels, scaled so that their shares come true as often as they say of a hand not seen."""
    import numpy as np
    from sklearn.svm import LinearSVC

    y = np.asarray([labels.index(min(example.labels)) for example in examples])
    weights = np.asarray([example.weight for example in examples])

    def fitted(rows: Any) -> tuple[Any, Any]:
        model = LinearSVC(C=strength, random_state=SEED, max_iter=3000).fit(x[rows], y[rows], weights[rows])
        coefficients, starts = np.zeros((len(labels), x.shape[1])), np.full(len(labels), -1.0)
        if len(model.classes_) == 2:
            coefficients[model.classes_] = [-model.coef_[0], model.coef_[0]]
            starts[model.classes_] = [-model.intercept_[0], model.intercept_[0]]
        else:
            coefficients[model.classes_], starts[model.classes_] = model.coef_, model.intercept_
        return coefficients, starts

    hands = sorted({example.hand for example in examples})
    fold = np.asarray([hands.index(example.hand) for example in examples])
    scores = np.zeros((len(y), len(labels)))
    for held in range(len(hands)):
        coefficients, starts = fitted(fold != held)
        scores[fold == held] = x[fold == held] @ coefficients.T + starts
    scale = min(np.geomspace(0.5, 16, 41), key=lambda s: _loss(scores * s, y, weights))
    coefficients, starts = fitted(np.full(len(y), True))
    return coefficients * scale, starts * scale


def _loss(scores: Any, y: Any, weights: Any) -> float:
    import numpy as np

    top = scores.max(axis=1, keepdims=True)
    logs = scores - top - np.log(np.exp(scores - top).sum(axis=1, keepdims=True))
    return float(-(logs[np.arange(len(y)), y] * weights).sum())


def _any(x: Any, examples: Sequence[Example], labels: list[str], strength: float) -> tuple[Any, Any]:
    import numpy as np
    from sklearn.linear_model import LogisticRegression

    weights = np.asarray([example.weight for example in examples])
    parts = []
    for label in labels:
        y = [label in example.labels for example in examples]
        one = LogisticRegression(C=strength, solver="liblinear", max_iter=300, random_state=SEED)
        parts.append(one.fit(x, y, weights))
    return np.asarray([p.coef_[0] for p in parts]), np.asarray([p.intercept_[0] for p in parts])


def _packed(labels: Sequence[str], rows: Any, starts: Any, more: tuple[Sequence[int], str, int]) -> Model:
    """The weights in small whole numbers."""
    import numpy as np

    keys, digest, prune = more
    scale = float(f"{np.abs(rows).max() / STEPS:.6g}") or 1.0
    steps = np.rint(rows / scale).astype(int)
    steps[np.abs(steps) < prune] = 0
    kept, places, owners, weights = array("I"), array("I", [0]), array("H"), array("b")
    for place, key in enumerate(keys):
        held = steps[:, place].nonzero()[0].tolist()
        if held:
            kept.append(key)
            owners.extend(held)
            weights.extend(steps[held, place].tolist())
            places.append(len(owners))
    return Model(tuple(labels), tuple(round(float(s), 4) for s in starts), scale, digest, kept, places, owners, weights)


def save(model: Model, path: Path) -> None:
    head = {
        "labels": dict(zip(model.labels, model.starts_from, strict=True)),
        "scale": model.scale, "digest": model.digest, "keys": len(model.keys), "weights": len(model.weights),
    }  # fmt: skip
    parts = (model.keys, model.starts, model.owners, model.weights)
    path.write_bytes(json.dumps(head).encode() + b"\n" + b"".join(part.tobytes() for part in parts))
