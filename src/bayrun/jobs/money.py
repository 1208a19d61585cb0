"""Price, hours, crew plan, load list and material by day: as tables for CSV and workbook, and as sheets."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from bayrun.drawings import cautions
from bayrun.drawings.lists import Column as SheetColumn
from bayrun.drawings.lists import ListRow, ListSheet
from bayrun.jobs.plan import Plan
from bayrun.rules.words import count_of
from bayrun.tables.prices import EXAMPLE
from bayrun.takeoff.adds import add_prices
from bayrun.takeoff.crew import CrewStep, joined
from bayrun.takeoff.lists import Column, ListTable, Row
from bayrun.takeoff.price import STAGE_FACTORS, STAGE_WORDS, Estimate, PriceLine, estimate
from bayrun.takeoff.use import by_day, load_list
from bayrun.takeoff.words import natural
from bayrun.takeoff.work import Stage

BY_OTHERS = (
    ("Power to the enclosure, its circuit and grounding", "by the licensed electrician"),
    ("Changes to structure, backing and blocking", "by the framer; an engineer where structure is cut"),
    ("Patching, tape and paint", "by the drywaller and painter"),
    ("Service from the street to the house", "by the carrier"),
    ("Screens, radios, cameras and other devices", "by the owner, unless a line names them"),
)
"""What is never in the price. AC work is the licensed electrician's."""


def plan_estimate(plan: Plan, when: str = "before drywall") -> Estimate:
    """The price of a plan by its own price list."""
    return estimate(plan.job, plan.wiring, plan.counted, plan.prices, when)


def price_notice(told: Estimate) -> str:
    """Whose prices stand in an estimate, in one sentence; empty where all are the firm's own."""
    if not told.examples:
        return ""
    lines = count_of(told.examples, "line stands", "lines stand")
    return (
        f"{EXAMPLE[0].upper()}{EXAMPLE[1:]}: {lines} on invented prices (bayrun prices out, then prices in)."
    )


def money_tables(plan: Plan) -> tuple[ListTable, ...]:
    """Price, hours, crew plan, load list and material by day."""
    told = plan_estimate(plan)
    return (
        _price_table(told),
        _hours_table(told),
        _crew_table(told),
        _load_table(plan, told),
        _day_table(plan, told),
    )


def money_sheets(plan: Plan) -> tuple[ListSheet, ...]:
    """Scope and price, crew plan, load list, material by day: the sheets of the pack."""
    if not plan.wiring.runs:
        return ()
    told = plan_estimate(plan)
    return (scope_sheet(plan, told), _crew_sheet(plan, told), _load_sheet(plan, told), _day_sheet(plan, told))


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:,.2f}"


def _inputs(line: PriceLine) -> str:
    return "; ".join(f"{name} {value}" for name, value in line.figure.inputs)


def _price_table(told: Estimate) -> ListTable:
    money = told.currency
    columns = (
        Column("Part", width=12),
        Column("Stage", width=10),
        Column("Line", width=50),
        Column("Count", "number", 10),
        Column("Unit", width=12),
        Column(f"Each ({money})", "money", 11),
        Column(f"Price ({money})", "money", 12),
        Column(f"Low ({money})", "money", 12),
        Column(f"High ({money})", "money", 12),
        Column("Whose price", width=12),
        Column("Reckoned as", width=50),
        Column("From", width=60),
        Column("Source", width=40),
        Column("Asked for by", width=60),
    )
    rows: list[Row] = []
    for line in told.lines:
        stage = STAGE_WORDS[line.stage] if line.stage else ""
        whose = "no price" if line.price is None else "firm" if line.own else "example"
        front = (line.part, stage, line.words, float(line.count), line.unit, line.each)
        figure = (line.figure.formula, _inputs(line), line.figure.source, ", ".join(line.because))
        rows.append((*front, line.price, line.low, line.high, whose, *figure))
    blank = (None, "", None)
    for words, amount in (
        ("Price before tax", told.before_tax),
        ("Total", told.total),
        ("Half of such jobs stay under (P50)", told.p50),
        ("Four of five stay under (P80)", told.p80),
    ):
        tail = (amount, None, None, "", "", "", "", "")
        rows.append(("total", "", words, *blank, *tail))
    return ListTable("price", "Price, line by line (for the office)", columns, tuple(rows))


def _hours_table(told: Estimate) -> ListTable:
    columns = (
        Column("Stage", width=10),
        Column("Task", width=50),
        Column("Count", "number", 10),
        Column("Unit", width=12),
        Column("People at once", "count", 8),
        Column("Hours", "number", 10),
        Column("Low", "number", 10),
        Column("High", "number", 10),
        Column("Source", width=40),
        Column("Asked for by", width=60),
        Column("Hours really", "blank", 10),
    )
    rows = tuple(
        (
            STAGE_WORDS[line.stage],
            line.words,
            float(line.count),
            line.unit,
            line.people,
            float(line.hours),
            float(line.low),
            float(line.high),
            line.figure.source,
            ", ".join(line.because),
            None,
        )
        for line in told.hours
    )
    return ListTable("hours", "Hours by task", columns, rows)


def _who(step: CrewStep) -> str:
    return "person " + " and ".join(f"{one}" for one in step.people)


def _crew_table(told: Estimate) -> ListTable:
    columns = (
        Column("Stage", width=10),
        Column("Day", "count", 6),
        Column("Who", width=16),
        Column("From hour", "number", 9),
        Column("Hours", "number", 9),
        Column("Task", width=50),
        Column("Level", width=7),
        Column("Room", width=26),
        Column("For", width=50),
        Column("Done", "blank", 7),
        Column("Hours really", "blank", 10),
    )
    rows = tuple(
        (
            STAGE_WORDS[step.stage],
            step.day,
            _who(step),
            float(round(step.start_h, 2)),
            float(step.hours),
            step.words,
            step.level,
            step.room,
            ", ".join(step.because),
            None,
            None,
        )
        for step in joined(told.steps)
    )
    return ListTable("crew", "Crew plan: who does what on which day", columns, rows)


def _load_table(plan: Plan, told: Estimate) -> ListTable:
    columns = (
        Column("Stage", width=10),
        Column("First used on day", "count", 8),
        Column("Group", width=18),
        Column("Item", width=50),
        Column("Load", width=36),
        Column("Needed", "count", 8),
        Column("Spare", "count", 7),
        Column("Unit", width=8),
        Column("Asked for by", width=60),
        Column("On the truck", "blank", 8),
    )
    rows = tuple(
        (
            STAGE_WORDS[one.stage],
            one.first_day,
            one.group,
            one.item,
            one.words,
            one.needed,
            one.spare,
            one.unit,
            ", ".join(one.because),
            None,
        )
        for one in load_list(plan.counted, told.steps)
    )
    return ListTable("load", "Load list: what is used first stands at the door", columns, rows)


def _day_table(plan: Plan, told: Estimate) -> ListTable:
    columns = (
        Column("Stage", width=10),
        Column("Day", "count", 6),
        Column("Level", width=7),
        Column("Room", width=30),
        Column("Item", width=50),
        Column("Count", "count", 8),
        Column("Unit", width=8),
        Column("Asked for by", width=60),
        Column("Used", "blank", 8),
    )
    rows = tuple(
        (
            STAGE_WORDS[one.stage],
            one.day,
            one.level,
            one.room,
            one.item,
            one.count,
            one.unit,
            ", ".join(one.because),
            None,
        )
        for one in by_day(plan.counted, told.steps)
    )
    return ListTable("by-day", "Material by day and room, in the order of use", columns, rows)


def scope_sheet(plan: Plan, told: Estimate) -> ListSheet:
    """Scope and price for whoever pays: included, by others, price, price of what is added later."""
    rows = [*_included(plan), *(ListRow((what, who, ""), "", "By others") for what, who in BY_OTHERS)]
    price = "Price, before drywall"
    rows += [ListRow((one.words, "", _money(one.price)), "", price) for one in told.sections]
    taxes = [line for line in told.lines if line.part == "tax"]
    rows += [ListRow((line.words, f"{line.count:f} %", _money(line.price)), "", price) for line in taxes]
    rows.append(ListRow(("Total", "", _money(told.total)), "", price))
    late = plan_estimate(plan, "after drywall")
    words = "The same work after drywall, patching by others"
    rows.append(ListRow((words, "", _money(late.total)), "", price))
    whens = tuple(STAGE_FACTORS)
    for add in add_prices(plan.job, plan.counted, plan.prices):
        amounts = dict(add.prices)
        later = " · ".join(f"{when} {_money(amounts[when])}" for when in whens[1:])
        rows.append(
            ListRow(
                (add.words, later, _money(amounts[whens[0]])),
                "",
                "Added later, at a place that has a box, each with tax: before drywall at the right",
            )
        )
    rows += [ListRow((words, "", ""), "", "Rests on") for words in _rests_on(plan, told)]
    note = price_notice(told)
    return ListSheet(
        "scope and price",
        f"Scope and price: {count_of(len(plan.wiring.runs), 'cable')} to "
        f"{count_of(plan.totals.locations, 'location')}, {_money(told.total)} {told.currency} with tax",
        (
            SheetColumn("what", share=1.6),
            SheetColumn("note", share=1.2),
            SheetColumn(told.currency, "number"),
        ),
        tuple(rows),
        note=note,
        caution=cautions.MATERIAL,
        tick=False,
        field="",
    )


def _included(plan: Plan) -> list[ListRow]:
    names = {row.kind: row.kind_name for row in plan.counted.lengths}
    found = []
    for kind, feet in sorted(plan.totals.feet_by_kind, key=lambda pair: natural(pair[0])):
        cables = sum(run.kind == kind for run in plan.wiring.runs)
        found.append((f"Cable {names.get(kind, kind)}", f"{count_of(cables, 'run')}, about {feet:,.0f} ft"))
    t = plan.totals
    found.append(("Locations with box or ring, plates and connectors", f"{t.locations}"))
    boxes = len(
        {end.id for run in plan.wiring.runs for end in (run.from_end, run.to_end) if end.type == "enclosure"}
    )
    found.append(("Media enclosure hung, dressed and patched", f"{boxes}"))
    steel = t.plates + t.straps + t.grommets
    found.append(
        ("Holes drilled, steel over cables where the rule asks", f"{t.holes} holes, {steel} pieces of steel")
    )
    found.append(("Penetrations sealed", f"{t.seals}"))
    found.append(("Labels at both ends, toned out, photographs before cover", "every run and room"))
    if plan.wiring.unreached:
        runs = ", ".join(one.run for one in plan.wiring.unreached)
        found.append(("NOT in this price: no way was found", runs))
    return [ListRow((what, note, ""), "", "Included") for what, note in found]


def _rests_on(plan: Plan, told: Estimate) -> list[str]:
    days = " and ".join(
        f"{count_of(count, 'day')} of {STAGE_WORDS[stage].lower()}" for stage, count in told.days if count
    )
    crew = int(plan.prices.rate("crew").value)
    found = [f"A crew of {crew}: {days}, {told.person_hours:.1f} hours of people."]
    found.append("The framing as planned; what the walk finds otherwise is a priced change.")
    if told.unpriced:
        found.append(f"Not priced yet: {', '.join(told.unpriced)}.")
    return found


def _days_words(steps: Sequence[CrewStep]) -> str:
    stages: tuple[Stage, ...] = ("rough", "trim")
    parts = []
    for stage in stages:
        days = max((step.day for step in steps if step.stage == stage), default=0)
        if days:
            parts.append(f"{STAGE_WORDS[stage].lower()} {count_of(days, 'day')}")
    return ", ".join(parts)


def _crew_sheet(plan: Plan, told: Estimate) -> ListSheet:
    pull_of = {run: pull.id for pull in plan.counted.pulls for run in pull.runs}
    rows = []
    for group in _stretches(told.steps):
        first = group[0]
        hours = sum((step.hours for step in group), Decimal(0))
        where = ", ".join(dict.fromkeys(step.room for step in group if step.room))
        if first.task.startswith("pull"):
            where = ", ".join(dict.fromkeys(pull_of.get(one, one) for step in group for one in step.because))
        if first.task == "staple":
            levels = sorted({step.level for step in group}, key=natural)
            where = f"along the walls, level {', '.join(levels)}"
        title = f"{STAGE_WORDS[first.stage]}, day {first.day}"
        cells = (_clock(first.start_h), _who(first), _task_words(first), where, f"{hours:.2f}")
        rows.append(ListRow(cells, "", title))
    return ListSheet(
        "crew plan",
        f"Who does what: {_days_words(told.steps)}, {told.person_hours:.1f} hours of people",
        (
            SheetColumn("at hour", "number"),
            SheetColumn("who"),
            SheetColumn("task", share=1.0),
            SheetColumn("where", share=1.3),
            SheetColumn("hours", "number"),
        ),
        tuple(rows),
        note="Hours count from the start of the day. Two pull together: one leads, one feeds the boxes.",
        caution=cautions.PULL,
        field="hours really",
        wide=True,
    )


def _clock(hours: Decimal) -> str:
    minutes = int((hours * 60).to_integral_value())
    return f"{minutes // 60}:{minutes % 60:02d}"


def _task_words(step: CrewStep) -> str:
    return "Pull" if step.task in ("pull", "pull more", "pull set-up") else step.words


def _stretches(steps: Sequence[CrewStep]) -> list[list[CrewStep]]:
    """What one person (or both) does of one task without a break on one day, in the order of beginning."""
    found: list[list[CrewStep]] = []
    last: dict[tuple[Stage, int, tuple[int, ...]], list[CrewStep]] = {}
    for step in steps:
        key = (step.stage, step.day, step.people)
        group = last.get(key)
        if group is not None and _task_words(group[0]) == _task_words(step):
            group.append(step)
        else:
            found.append([step])
            last[key] = found[-1]
    return found


def _load_sheet(plan: Plan, told: Estimate) -> ListSheet:
    lines = load_list(plan.counted, told.steps)
    rows = tuple(
        ListRow(
            (
                one.item,
                one.words,
                f"{one.needed} + {one.spare}" if one.spare else f"{one.needed}",
                one.unit,
                f"{one.first_day}" if one.first_day else "",
            ),
            "",
            f"{STAGE_WORDS[one.stage]}: load in this order, what is used first goes in last",
        )
        for one in lines
    )
    return ListSheet(
        "load list",
        f"Load the truck: {count_of(len(lines), 'line')}",
        (
            SheetColumn("item", share=1.5),
            SheetColumn("load", share=1.0),
            SheetColumn("needed + spare", "number"),
            SheetColumn("unit"),
            SheetColumn("day", "number"),
        ),
        rows,
        note="Day: of its stage, when it is first used. Leave trim-out material in the shop until then.",
        caution=cautions.MATERIAL,
        field="on truck",
    )


def _day_sheet(plan: Plan, told: Estimate) -> ListSheet:
    rooms: dict[tuple[Stage, int, str], list[str]] = {}
    for one in by_day(plan.counted, told.steps):
        known = any(room.name == one.room for room in plan.job.rooms)
        place = f"{one.room}, level {one.level}" if known else "Along the ways" if one.room else "Whole house"
        unit = "" if one.unit == "each" else f" {one.unit}"
        item = one.item.partition(", new box of")[0].partition(", on hand")[0]
        rooms.setdefault((one.stage, one.day, place), []).append(f"{one.count}{unit} {item}")
    rows = []
    for (stage, day, place), items in rooms.items():
        words = "; ".join(_added_up(items) if place == "Along the ways" else items)
        rows.append(ListRow((place, words), "", f"{STAGE_WORDS[stage]}, {f'day {day}' if day else 'no day'}"))
    return ListSheet(
        "material by day",
        "What goes to which room on which day",
        (SheetColumn("room", share=1.0), SheetColumn("material, without spares", share=3.2)),
        tuple(rows),
        note="In the order of use. What is over goes back to the truck. lists/by-day.csv names each object.",
        caution=cautions.MATERIAL,
        field="",
        wide=True,
    )


def _added_up(items: Sequence[str]) -> list[str]:
    """Counts of the same thing as one: staples along many walls are carried in one box."""
    found: dict[str, int] = {}
    for item in items:
        count, _, words = item.partition(" ")
        found[words] = found.get(words, 0) + int(count)
    return [f"{count} {words}" for words, count in found.items()]
