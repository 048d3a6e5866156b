"""Each kind of work as two questions: how long does it take now, and what is written down when it is done.

The first table gives minutes without lifting a net; the second writes into the ``Workday`` and gives the money spent.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from sim.cast import Product, word
from sim.practices.fabrics import Edges, Material
from sim.practices.orders import Order
from sim.practices.sprays import Hour
from sim.practices.workday import Covering, Look, Task, Workday

if TYPE_CHECKING:
    from sim.practices.gardener import Gardener

HOURS = tuple(word(hour) for hour in Hour)
MATERIALS = tuple(word(material) for material in Material)
EDGES = tuple(word(edges) for edges in Edges)
PRODUCTS = tuple(word(product) for product in Product)

Minutes = Callable[["Gardener", Order, Look], float]
Deed = Callable[["Gardener", Order, int, float, Workday, Look], float]


def spray_hour(order: Order) -> int:
    """Return the ``Hour`` of a spray order."""
    return HOURS.index(_action(order).hour)


def _action(order: Order) -> Any:
    assert order.action is not None
    return order.action


def _pollinate_minutes(gardener: Gardener, order: Order, look: Look) -> float:
    return gardener.labour.pollinate_minutes(look.flowers_open(order.bed), _action(order).visits)


def _scout_plants(gardener: Gardener, order: Order) -> int:
    return min(int(_action(order).plants), gardener.beds[order.bed].plants)


MINUTES_OF: dict[Task, Minutes] = {
    Task.PLANT: lambda gardener, order, look: gardener.labour.plant_minutes(gardener.beds[order.bed]),
    Task.UNCOVER: lambda gardener, order, look: gardener.labour.uncover_minutes(gardener.beds[order.bed]),
    Task.COVER: lambda gardener, order, look: gardener.labour.cover_minutes(
        gardener.beds[order.bed], Edges(EDGES.index(_action(order).edges))
    ),
    Task.PICK: lambda gardener, order, look: gardener.labour.pick_minutes(
        gardener.beds[order.bed], look.ripe(order.bed)
    ),
    Task.HAND_POLLINATE: _pollinate_minutes,
    Task.SPRAY: lambda gardener, order, look: gardener.labour.spray_minutes(gardener.beds[order.bed]),
    Task.SCOUT: lambda gardener, order, look: gardener.labour.scout_minutes(_scout_plants(gardener, order)),
    Task.HAND_PICK: lambda gardener, order, look: gardener.labour.hand_pick_minutes(
        gardener.beds[order.bed], _action(order).seconds_per_plant
    ),
    Task.WASH_OFF: lambda gardener, order, look: gardener.labour.wash_minutes(gardener.beds[order.bed]),
    Task.CHECK_NET: lambda gardener, order, look: gardener.labour.check_net_minutes(),
    Task.WEED: lambda gardener, order, look: gardener.labour.weed_minutes(gardener.beds[order.bed]),
    Task.CLEAN_UP: lambda gardener, order, look: gardener.labour.clean_up_minutes(gardener.beds[order.bed]),
    Task.TILL: lambda gardener, order, look: gardener.labour.till_minutes(gardener.beds[order.bed]),
    Task.PLANT_FLOWER_STRIP: lambda gardener, order, look: gardener.labour.flower_strip(_action(order).area_m2)[0],
    Task.PLANT_HEDGEROW: lambda gardener, order, look: gardener.labour.hedgerow(_action(order).length_m)[0],
    Task.PUT_UP_NEST_BOX: lambda gardener, order, look: gardener.labour.nest_boxes(_action(order).count)[0],
}
"""Minutes of the whole job as things stand."""


def _plant(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    gardener.planted_day[order.bed] = day
    workday.planted.append(order.bed)
    return gardener.labour.plant_usd(gardener.beds[order.bed])


def _uncover(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    gardener.is_covered[order.bed] = False
    workday.uncovered.append(order.bed)
    return 0.0


def _cover(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    action = _action(order)
    material = Material(MATERIALS.index(action.material))
    hours = None if action.open_from_hour is None else (action.open_from_hour, action.open_to_hour)
    edges = EDGES.index(action.edges)
    workday.covered.append(Covering(order.bed, int(material), edges, action.gap_share, hours))
    return gardener.note_cover(order.bed, material, day)


def _pick(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.picked.append(order.bed)
    return 0.0


def _pollinate(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.pollinated.append((order.bed, _action(order).visits, share))
    return 0.0


def _spray(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    product = Product(PRODUCTS.index(_action(order).product))
    workday.sprayed.append((order.bed, int(product), spray_hour(order)))
    return gardener.note_spray(order.bed, product, day)


def _scout(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    seen = look.seen(order.bed, _scout_plants(gardener, order), day)
    gardener.scouted[order.bed] = seen
    workday.scouted.append((order.bed, seen))
    return 0.0


def _hand_pick(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.hand_picked.append((order.bed, share, _action(order).seconds_per_plant))
    return 0.0


def _wash(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.washed.append((order.bed, share))
    return 0.0


def _check_net(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.net_checks.append(order.bed)
    return 0.0


def _weed(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.weeded.append(order.bed)
    return 0.0


def _clean_up(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.cleaned_up.append(order.bed)
    return 0.0


def _till(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    workday.tilled.append(order.bed)
    return 0.0


def _plant_strip(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    area_m2 = _action(order).area_m2
    workday.flower_strip_m2 += area_m2
    return gardener.labour.flower_strip(area_m2)[1]


def _plant_hedgerow(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    action = _action(order)
    workday.hedgerows.append((action.length_m, action.age_years))
    return gardener.labour.hedgerow(action.length_m)[1]


def _put_up_box(gardener: Gardener, order: Order, day: int, share: float, workday: Workday, look: Look) -> float:
    action = _action(order)
    workday.nest_boxes.append((action.kind, action.count, action.distance_m))
    return gardener.labour.nest_boxes(action.count)[1]


def later_share_usd(gardener: Gardener, order: Order) -> float:
    """Return a later season's share of the price [US$] of what was put in before; a flower strip was paid at once."""
    action = _action(order)
    if order.task == Task.PLANT_HEDGEROW:
        return gardener.labour.hedgerow(action.length_m)[1]
    if order.task == Task.PUT_UP_NEST_BOX:
        return gardener.labour.nest_boxes(action.count)[1]
    return 0.0


CARRY_OUT: dict[Task, Deed] = {
    Task.PLANT: _plant,
    Task.UNCOVER: _uncover,
    Task.COVER: _cover,
    Task.PICK: _pick,
    Task.HAND_POLLINATE: _pollinate,
    Task.SPRAY: _spray,
    Task.SCOUT: _scout,
    Task.HAND_PICK: _hand_pick,
    Task.WASH_OFF: _wash,
    Task.CHECK_NET: _check_net,
    Task.WEED: _weed,
    Task.CLEAN_UP: _clean_up,
    Task.TILL: _till,
    Task.PLANT_FLOWER_STRIP: _plant_strip,
    Task.PLANT_HEDGEROW: _plant_hedgerow,
    Task.PUT_UP_NEST_BOX: _put_up_box,
}
"""What is written down when a job, or a share of one that is done plant by plant, is done."""
