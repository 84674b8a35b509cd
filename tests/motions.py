"""Synthetic ground motions for tests: filtered noise under an envelope, by seed; and blocks that are integrated in time."""

from __future__ import annotations

import numpy as np
from scipy.signal import butter, sosfiltfilt

G = 9.80665
STEP = 0.002  # s


def shaking(seed, peak, low=0.3, high=8.0, seconds=20.0):
    """Acceleration (g) at every STEP: white noise through a band (Hz), 3 s rise, strong, then fading; peak in g."""
    count = int(seconds / STEP)
    t = np.arange(count) * STEP
    noise = np.random.default_rng(seed).standard_normal(count)
    band = sosfiltfilt(butter(2, (low, high), "bandpass", fs=1 / STEP, output="sos"), noise)
    envelope = np.minimum(t / 3.0, 1.0) ** 2 * np.exp(-0.25 * np.maximum(t - 10.0, 0.0))
    a = band * envelope
    a -= a.mean()
    return a / np.abs(a).max() * peak


def velocity(a):
    """Of the ground (m/s)."""
    return np.cumsum(a) * STEP * G


def slides(a, mu, step=STEP):
    """Largest way (m) of a block on level ground that moves by a (g): Coulomb friction, both ways, in small steps."""
    v = x = most = 0.0  # of the block against the ground
    limit = mu * G
    for ground in a:
        push = -ground * G
        if v == 0.0 and abs(push) <= limit:
            continue
        direction = np.sign(v) if v != 0.0 else np.sign(push)
        new = v + (push - direction * limit) * step
        if v != 0.0 and new * v < 0:  # it stops within the step
            new = 0.0
        x += (v + new) / 2 * step
        v = new
        most = max(most, abs(x))
    return most


def rocks(a, b, h, step=STEP):
    """Largest lean over the angle of balance (−; 1: it fell) of a rectangular block, half width b and half height h (m)."""
    most = 0.0
    for lean in leans(a, b, h, step):
        most = max(most, abs(lean))
        if most >= 1:
            return 1.0
    return most


def leans(a, b, h, step=STEP, start=0.0):
    """Lean over the angle of balance at every step, from a start at rest.

    Housner's equation of motion, angular velocity times 1 − 1.5 sin²α at each impact.
    """
    R, alpha = np.hypot(b, h), np.arctan2(b, h)
    p2 = 3 * G / (4 * R)
    kept = max(1 - 1.5 * np.sin(alpha) ** 2, 0.0)
    theta, omega = start * alpha, 0.0
    for ground in a:
        if theta == 0.0 and omega == 0.0:
            if abs(ground) <= np.tan(alpha):
                yield 0.0
                continue
            side = -np.sign(ground)
        else:
            side = np.sign(theta) if theta != 0.0 else np.sign(omega)
        turn = -p2 * (np.sin(side * alpha - theta) + ground * np.cos(side * alpha - theta))
        omega += turn * step
        new = theta + omega * step
        if theta != 0.0 and new * theta <= 0:
            omega *= kept
            new = 0.0 if abs(omega) < 1e-4 else new
            omega = 0.0 if abs(omega) < 1e-4 else omega
        theta = new
        yield theta / alpha
