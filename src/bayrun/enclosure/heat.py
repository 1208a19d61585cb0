"""How warm a flush enclosure gets from the watts lost in it: a steady balance of heat.

Front: film inside, thin door, then natural convection (Churchill-Chu, vertical plate) and radiation to the
room.
Back: film, gypsum board, film to the room behind. Sides, top and bottom pass nothing (bays full of
insulation).
All watts of the gear become heat; a battery's own loss counts too.

Limits of use: 1 to 100 W, room 0 to 45 C, box 6 to 60 in a side, inside air at most 40 K over the room. It
is a
plan's figure: a fifth either way. Source: Churchill and Chu 1975; ASHRAE films and gypsum; PHYSICS of a
flat plate.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from bayrun.cables.ranges import Limit, RangeError, Verdict, check_ranges, judge
from bayrun.geometry import below
from bayrun.tables.physics import physics_table
from bayrun.units import Figure

SIGMA_W_M2K4 = 5.670374419e-8
ZERO_C_K = 273.15
GRAVITY_M_S2 = 9.81
SOURCE = "energy balance: Churchill-Chu (1975), ASHRAE films and gypsum board"
LARGEST_RISE_K = 60.0


@dataclass(frozen=True, slots=True)
class FlushBox:
    """An enclosure set in a wall.

    Args:
        height_in, width_in: Its face [in].
        bright_door: A bare bright metal door radiates little; painted steel and plastic radiate well.
        insulated_back: Foil or insulation behind it: no heat leaves at the back.
        gypsum_in: Board of the wall's other side [in].
        vent_in2: Free area of the openings at the door's bottom, and as much again at its top [sq in].
    """

    height_in: float
    width_in: float
    bright_door: bool = False
    insulated_back: bool = False
    gypsum_in: float = 0.5
    vent_in2: float = 0.0


@dataclass(frozen=True, slots=True)
class BoxHeat:
    """How warm it gets."""

    inside_c: Figure
    door_c: Figure
    front_w: float
    back_w: float
    vent_w: float
    verdict: Verdict
    reason: str


@dataclass(frozen=True, slots=True)
class Air:
    """Air at a temperature: conductivity [W/mK], viscosity and diffusivity [m2/s], Prandtl number."""

    conductivity: float
    viscosity: float
    diffusivity: float
    prandtl: float


def air_at(kelvin: float) -> Air:
    """Properties of air, straight between the rows of the table.

    Raises:
        RangeError: Not 250 to 450 K.
    """
    data = physics_table("heat")["air"]
    rows = data["kelvin"]
    check_ranges(Limit("air", kelvin, rows[0], rows[-1], "K", "the table of air"))
    upper = next(n for n in range(1, len(rows)) if kelvin <= rows[n] + 1e-9)
    share = (kelvin - rows[upper - 1]) / (rows[upper] - rows[upper - 1])

    def at(name: str) -> float:
        low, high = data[name][upper - 1], data[name][upper]
        return float(low + share * (high - low))

    return Air(at("conductivity"), at("viscosity"), at("diffusivity"), at("prandtl"))


def nusselt_vertical(rayleigh: float, prandtl: float) -> float:
    """Nusselt number of a vertical plate of even temperature, Churchill and Chu 1975, all Rayleigh numbers.

    Raises:
        RangeError: A Rayleigh number over 1e12 or under 0.
    """
    check_ranges(
        Limit("a Rayleigh number", rayleigh, 0.0, 1e12),
        Limit("a Prandtl number", prandtl, 0.01, 1000.0),
    )
    return float((0.825 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2)


def convection_w_m2k(surface_c: float, air_c: float, height_m: float) -> float:
    """Natural convection of a vertical plate [W/m2K], properties at the film's temperature.

    Raises:
        RangeError: Outside the table of air.
    """
    film_k = (surface_c + air_c) / 2 + ZERO_C_K
    air = air_at(film_k)
    return nusselt_vertical(rayleigh(surface_c, air_c, height_m), air.prandtl) * air.conductivity / height_m


def rayleigh(surface_c: float, air_c: float, height_m: float) -> float:
    """Rayleigh number of a vertical plate on its height, properties at the film's temperature."""
    film_k = (surface_c + air_c) / 2 + ZERO_C_K
    air = air_at(film_k)
    drive = GRAVITY_M_S2 / film_k * abs(surface_c - air_c) * height_m**3
    return drive / (air.viscosity * air.diffusivity)


def radiation_w_m2k(surface_c: float, air_c: float, emissivity: float) -> float:
    """Radiation to a room at the air's temperature, as a film [W/m2K]."""
    hot, cold = surface_c + ZERO_C_K, air_c + ZERO_C_K
    return emissivity * SIGMA_W_M2K4 * (hot**2 + cold**2) * (hot + cold)


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """Root of a rising function by the Illinois rule; an end where none is between them."""
    at_low, at_high = function(low), function(high)
    if at_low >= 0 or at_high <= 0:
        return low if at_low >= 0 else high
    side = 0
    for _ in range(200):
        if high - low < 1e-11:
            break
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at_middle = function(middle)
        if at_middle == 0 or middle in (low, high):
            return middle
        if at_middle < 0:
            low, at_low = middle, at_middle
            at_high /= 2 if side < 0 else 1
            side = -1
        else:
            high, at_high = middle, at_middle
            at_low /= 2 if side > 0 else 1
            side = 1
    return (low + high) / 2


def _check_box(box: FlushBox, room_c: float) -> tuple[Limit, ...]:
    return (
        Limit("the box's height", box.height_in, 6.0, 60.0, "in", "a wall enclosure"),
        Limit("the box's width", box.width_in, 6.0, 60.0, "in", "a wall enclosure"),
        Limit("gypsum board", box.gypsum_in, 0.25, 1.5, "in"),
        Limit("openings of the door", box.vent_in2, 0.0, box.height_in * box.width_in / 2, "sq in"),
        Limit("the room", room_c, 0.0, 45.0, "C"),
    )


def vent_w(box: FlushBox, inside_c: float, room_c: float) -> float:
    """Heat that air carries through the openings of the door at an inside temperature [W]; 0 where none warms
    it.

    Two like openings, one low and one high: V = Cd A / root 2 x root(2 g h dT / T). Source: stack flow,
    ASHRAE Handbook Fundamentals (from memory).
    """
    rise_k = inside_c - room_c
    if box.vent_in2 <= 0 or rise_k <= 0:
        return 0.0
    data = physics_table("heat")
    vent, air = data["vent"], data["air"]
    apart_m = box.height_in * 0.0254 * vent["apart_share"]
    area_m2 = box.vent_in2 * 0.0254**2
    speed = math.sqrt(2 * GRAVITY_M_S2 * apart_m * rise_k / (inside_c + ZERO_C_K))
    flow_m3_s = vent["discharge"] * area_m2 / math.sqrt(2) * speed
    return float(air["density_kg_m3"] * air["heat_j_kg_k"] * flow_m3_s * rise_k)


def _flows(box: FlushBox, inside_c: float, room_c: float, behind_c: float) -> tuple[float, float, float]:
    """Watts through the front and the back at an inside temperature, and the door's temperature."""
    data = physics_table("heat")
    height_m, width_m = box.height_in * 0.0254, box.width_in * 0.0254
    area_m2 = height_m * width_m
    emissivity = data["faces"]["bright" if box.bright_door else "painted"]
    film = data["films"]["still_m2k_w"]

    def out(door_c: float) -> float:
        per_k = convection_w_m2k(door_c, room_c, height_m) + radiation_w_m2k(door_c, room_c, emissivity)
        return per_k * (door_c - room_c)

    low, high = min(room_c, inside_c), max(room_c, inside_c)
    door_c = _root(lambda door: out(door) - (inside_c - door) / film, low, high)
    board = box.gypsum_in * 0.0254 / data["gypsum"]["conductivity"]
    back = 0.0 if box.insulated_back else (inside_c - behind_c) / (2 * film + board)
    return out(door_c) * area_m2, back * area_m2, door_c


def balance(
    box: FlushBox,
    watts: float,
    room_c: float = 25.0,
    behind_c: float | None = None,
    most_c: float | None = None,
) -> BoxHeat:
    """How warm the air in the box gets when ``watts`` are lost in it.

    Args:
        watts: All losses inside, power supplies and battery included [W], 0 to 100.
        room_c: Room in front, 0 to 45 C.
        behind_c: Room behind the wall; as the one in front where not said.
        most_c: Warmest air the gear stands; the usual 40 C where not said.
    Raises:
        RangeError: Outside these, or an air over 60 K warmer than the room: beyond the model and any gear.
    """
    data = physics_table("heat")
    limit_c = data["gear"]["most_c"] if most_c is None else most_c
    behind = room_c if behind_c is None else behind_c
    check_ranges(
        *_check_box(box, room_c),
        Limit("watts lost inside", watts, 0.0, 100.0, "W"),
        Limit("the room behind", behind, -20.0, 60.0, "C"),
        Limit("the gear's limit", limit_c, 20.0, 85.0, "C"),
    )

    def excess(inside_c: float) -> float:
        front, back, _ = _flows(box, inside_c, room_c, behind)
        return front + back + vent_w(box, inside_c, room_c) - watts

    top = max(room_c, behind) + LARGEST_RISE_K
    most_w = excess(top) + watts
    check_ranges(
        Limit(
            "watts lost inside",
            watts,
            0.0,
            most_w,
            "W",
            f"{LARGEST_RISE_K:g} K over the room; split or ventilate",
        )
    )
    inside_c = _root(excess, min(room_c, behind), top)
    front, back, door_c = _flows(box, inside_c, room_c, behind)
    spread = abs(inside_c - room_c) * data["model"]["plus_minus_share"]
    inputs: tuple[tuple[str, str], ...] = (
        ("watts inside", f"{watts:g} W"),
        ("room", f"{room_c:.3g} C"),
        ("face", f"{box.height_in:g} x {box.width_in:g} in"),
        ("door", "bright metal" if box.bright_door else "painted"),
        (
            "back",
            "insulated" if box.insulated_back else f"{box.gypsum_in:g} in gypsum to a room at {behind:.3g} C",
        ),
    )
    aired = vent_w(box, inside_c, room_c)
    if box.vent_in2:
        inputs = (*inputs, ("openings", f"{box.vent_in2:g} sq in low and as much high"))
    inside = Figure(inside_c, "C", "watts out at the front and back = watts inside", SOURCE, inputs, spread)
    verdict = judge(inside, at_most=limit_c)
    reason = f"{inside_c:.0f} ± {spread:.0f} C inside; the gear may stand {limit_c:g} C"
    if most_c is None:
        reason += f" ({data['gear']['document']})"
    door = Figure(door_c, "C", "front in balance", SOURCE, inputs, spread)
    return BoxHeat(inside, door, front, back, aired, verdict, reason)


def watts_allowed(box: FlushBox, most_c: float, room_c: float = 25.0) -> Figure:
    """Watts that warm the air in the box to ``most_c``, without the uncertainty [W].

    Raises:
        RangeError: Outside the model, or a limit not over the room.
    """
    check_ranges(
        *_check_box(box, room_c),
        Limit("the gear's limit", most_c, room_c, room_c + LARGEST_RISE_K, "C", "over the room", above=True),
    )
    front, back, _ = _flows(box, most_c, room_c, room_c)
    watts = front + back + vent_w(box, most_c, room_c)
    share = physics_table("heat")["model"]["plus_minus_share"]
    inputs = (("room", f"{room_c:.3g} C"), ("inside", f"{most_c:.3g} C"))
    return Figure(watts, "W", "heat out at that temperature", SOURCE, inputs, watts * share)


def openings_needed(
    box: FlushBox, watts: float, room_c: float = 25.0, most_c: float | None = None
) -> float | None:
    """Free area of the door's openings, low and as much high, that surely keeps the gear cool; None: none
    does.

    Returns:
        The smallest of the usual areas whose whole range of inside air is at most the limit [sq in].
    Raises:
        RangeError: Outside the model.
    """
    for area_in2 in physics_table("heat")["vent"]["areas_in2"]:
        vented = replace(box, vent_in2=area_in2)
        try:
            told = balance(vented, watts, room_c, None, most_c)
        except RangeError:
            continue  # still far too warm: the next larger openings
        if told.verdict is Verdict.HOLDS:
            return float(area_in2)
    return None


def vent_m3_h(watts: float, rise_k: float) -> Figure:
    """Air that carries heat away [m3/h]: P / (density x heat x rise).

    Raises:
        RangeError: A rise not 1 to 40 K, or watts not 0 to 500.
    """
    check_ranges(Limit("watts", watts, 0.0, 500.0, "W"), Limit("a rise", rise_k, 1.0, 40.0, "K"))
    data = physics_table("heat")["air"]
    per_s = watts / (data["density_kg_m3"] * data["heat_j_kg_k"] * rise_k)
    inputs = (("watts", f"{watts:g} W"), ("rise", f"{rise_k:g} K"))
    return Figure(per_s * 3600, "m3/h", "P / (density x heat x rise)", "definition, air at 25 C", inputs)


def series_u_w_m2k(resistances_m2k_w: tuple[float, ...]) -> float:
    """Heat through layers one behind the other [W/m2K].

    Raises:
        RangeError: None, or one not over zero.
    """
    check_ranges(
        Limit("layers", len(resistances_m2k_w), 1, 50),
        *(Limit("a layer's resistance", r, 0.0, 100.0, "m2K/W", above=True) for r in resistances_m2k_w),
    )
    return 1 / math.fsum(resistances_m2k_w)


def layer_m2k_w(thickness_in: float, conductivity: float) -> float:
    """Resistance of a layer [m2K/W]; conductivity in W/mK.

    Raises:
        RangeError: Not over zero.
    """
    check_ranges(Limit("a conductivity", conductivity, 0.0, 500.0, "W/mK", above=True))
    check_ranges(
        Limit("a thickness", 0.0 if below(thickness_in, 0.0) else thickness_in, 0.0, 60.0, "in", above=True)
    )
    return thickness_in * 0.0254 / conductivity
