"""In words: how does a rack give way where nothing balances the push?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.model import Frame

Array = NDArray[np.float64]


def mechanism(frame: Frame, rack: str, movements: Array) -> str:
    """Names the way in which a case's movements (6 n,) run away, seen from one rack."""
    place = frame.places[rack]
    u = movements.reshape(-1, 6)[:, :3] @ place.axes.T
    tops = {
        face: np.array(
            [frame.posts[name, line, side][-1] for name, line, side in frame.posts if (name, side) == (rack, face)]
        )
        for face in ("front", "back")
    }
    feet = np.array([chain[0] for (name, _, _), chain in frame.posts.items() if name == rack])
    sizes = np.abs(u)
    largest = float(sizes.max())
    if largest == 0:
        return "no part of it moves"
    u = u / largest
    everyone = np.concatenate([tops["front"], tops["back"]])
    if np.abs(u[feet, :2]).max() > 0.5 * np.abs(u[everyone, :2]).max():
        return "nothing stops its feet from sliding on the floor"
    if u[feet, 2].max() > 0.2:
        return "it tips over the feet on one side"
    along = {face: float(np.abs(u[points, 0]).mean()) for face, points in tops.items()}
    across = np.abs(u[everyone, 1])
    if max(along.values()) < 0.1 and across.max() < 0.1:
        return "a point inside it is held by nothing"
    if max(along.values()) >= across.mean():
        loose = [face for face, size in along.items() if size > 0.3 * max(along.values())]
        if len(loose) == 2:
            return "its long sides have nothing that stops them from leaning along the rack"
        return f"its {loose[0]} has nothing that stops it from leaning along the rack; the other long side does not help it"
    lines = sorted({line for name, line, _ in frame.posts if name == rack})
    sway = [float(np.abs(u[[frame.posts[rack, line, face][-1] for face in tops], 1]).mean()) for line in lines]
    if sway[0] > 0.3 * max(sway) and sway[-1] > 0.3 * max(sway):
        same = u[frame.posts[rack, lines[0], "front"][-1], 1] * u[frame.posts[rack, lines[-1], "front"][-1], 1] > 0
        return (
            "its short ends have nothing that stops them from leaning across the rack"
            if same
            else "it turns in plan: nothing on either short end stops it from twisting"
        )
    if max(sway[0], sway[-1]) < 0.3 * max(sway):
        return "its middle posts lean across the rack: the deck is too soft to hold them from the braced ends"
    end = "left" if sway[0] > sway[-1] else "right"
    return f"its {end} end has nothing that stops it from leaning across the rack; the other end does not help it"
