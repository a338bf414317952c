"""Deck-level channels: the pool spills over a lip into a channel under the deck."""

from __future__ import annotations

import math

import numpy as np

from ...arrays import Floats
from ...design import schema
from ..curves import unit
from ..floor import Floor, level_floor, sloping_floor
from .catch import Catch
from .part import Part, Water, numbered_mark, numbered_name
from .site import Site
from .trough import trough_part
from .weir import weir_plan
from .weir_plan import WeirPlan


def channels(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the deck-level channels of the pool."""
    return [_channel(site, item, k, pool) for k, item in enumerate(pool.channels)]


def _channel(site: Site, channel: schema.Channel, k: int, pool: schema.Pool) -> Part:
    key = ("channels", k)
    weir = weir_plan(site, channel, key, pool.batter)
    if weir is None:
        return Part()
    top = weir.crest - channel.depth
    ends = weir.line(weir.thickness), weir.line(weir.thickness + channel.width)
    lowest = float(_floor(channel, top, np.concatenate(ends)).height(np.concatenate(ends)).min())
    level = lowest + channel.water
    deck = site.wall_top if channel.deck is None else site.level + channel.deck
    _check_heights(site, weir, channel, level, deck, k)
    water = Water(
        numbered_name("channel", k, channel.name),
        level,
        numbered_mark("C", k),
        key,
        is_dry=channel.water == 0.0,
    )
    catch = Catch(
        "channel",
        water,
        deck,
        lambda border: _floor(channel, top, border),
        channel.cove,
        channel.width,
    )
    return trough_part(site, weir, catch, pool.coping)


def _floor(channel: schema.Channel, top: float, border: Floats) -> Floor:
    """Return the channel's floor, at the height ``top`` [m] where it is highest."""
    if channel.floor_fall == 0.0:
        return level_floor(top)
    down = math.copysign(1.0, channel.floor_fall) * unit(channel.direction)
    first = border[int(np.argmin(border @ down))]
    return sloping_floor(first, top, -abs(channel.floor_fall) * down)


def _check_heights(
    site: Site, weir: WeirPlan, channel: schema.Channel, level: float, deck: float, k: int
) -> None:
    key = ("channels", k)
    if channel.depth <= weir.crest - weir.lowest:
        site.findings.error(
            (*key, "depth"),
            "must put the channel's floor below the whole of the lip",
            f"{channel.depth:.3f} m; the lip's top falls by {weir.crest - weir.lowest:.3f} m",
            "make it deeper, or let the lip fall less",
        )
    elif level >= weir.lowest:
        site.findings.error(
            (*key, "water"),
            "must stand below the lip",
            f"{channel.water:.3f} m of water; the lip stands"
            f" {channel.water - level + weir.lowest:.3f} m above the deepest place",
            "use less water, or a deeper channel",
        )
    if deck < weir.crest:
        site.findings.error(
            (*key, "deck"),
            "must not lie below the crest of the lip",
            f"{deck - site.level:.3f} m above the water; the crest {weir.crest - site.level:.3f} m",
            "raise the deck, or lower the crest",
        )
