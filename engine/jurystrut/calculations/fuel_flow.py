"""Fuel that must flow, and fuel that was caught. SI."""

from __future__ import annotations

__all__ = ["caught_flow", "needed_flow"]


def needed_flow(power: float, specific_consumption: float, density: float) -> float:
    """The volume that an engine takes in m3/s, from its power in W, its consumption in kg/J and the fuel's kg/m3."""
    return power * specific_consumption / density


def caught_flow(volume: float, seconds: float) -> float:
    """The flow in m3/s of a volume caught in a time; ValueError where the time is not above zero."""
    if seconds <= 0:
        raise ValueError("no time was taken")
    return volume / seconds
