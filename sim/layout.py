"""Where beds and plants lie: rows at real spacings, paths between beds, the margin around.

Takes the scenario's beds; gives one position, bed, crop and edge share for each plant, bed by bed, the margin's patches
of wild hosts last, and the distances between beds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sim.cast import Crop
from sim.compiled import Floats, Ints
from sim.scenario import Bed, Scenario

PATH_M = 0.6
"""Width of the paths between beds: a layout choice, not a number of nature."""
MARGIN_DISTANCE_M = 1.0
"""From the edge of a bed to the margin."""
_PATCH_M2 = 1.0


@dataclass(frozen=True, slots=True)
class Layout:
    """A garden laid out: B beds with the margin last, P plants.

    Attributes
    ----------
    names
        Of the beds; the last is ``margin``.
    area_m2, left_m, bottom_m, width_m, length_m
        Ground and corner of each bed, shape (B,).
    first_plant
        Position of each bed's first plant, shape (B + 1,).
    crop, bed, x_m, y_m, edge_share, ground_area_m2
        Of each plant, shape (P,).
    distance_m
        From edge to edge, shape (B, B).
    """

    names: tuple[str, ...]
    area_m2: Floats
    left_m: Floats
    bottom_m: Floats
    width_m: Floats
    length_m: Floats
    first_plant: Ints
    crop: Ints
    bed: Ints
    x_m: Floats
    y_m: Floats
    edge_share: Floats
    ground_area_m2: Floats
    distance_m: Floats

    @property
    def margin(self) -> int:
        """Return the place of the margin among the beds."""
        return len(self.names) - 1

    @property
    def garden_area_m2(self) -> float:
        """Return beds, their paths and the margin [m²]."""
        paths = float(np.sum((self.width_m + self.length_m)[:-1] * PATH_M))
        return float(self.area_m2.sum()) + paths


def lay_out(scenario: Scenario) -> Layout:
    """Return the garden of a scenario laid out in columns of beds."""
    beds = scenario.single_beds
    corners = _corners(beds)
    columns: list[list[Floats]] = []
    starts = [0]
    for place, bed in enumerate(beds):
        x, y, edge = _rows_of_plants(bed)
        count = len(x)
        ground = np.full(count, bed.length_m * bed.width_m / count)
        crop = np.full(count, float(Crop[bed.crop.upper()]))
        columns.append([crop, np.full(count, float(place)), x + corners[place, 0], y + corners[place, 1], edge, ground])
        starts.append(starts[-1] + count)
    columns.append(_wild_patches(scenario, corners, len(beds)))
    starts.append(starts[-1] + len(columns[-1][0]))
    crop, bed_of, x_m, y_m, edge_share, ground_m2 = (np.concatenate(parts) for parts in zip(*columns, strict=True))
    boxes = np.vstack([corners, [[0.0, 0.0, 0.0, 0.0]]])
    area = np.array([bed.length_m * bed.width_m for bed in beds] + [scenario.margin.area_m2])
    return Layout(
        names=(*(bed.name for bed in beds), "margin"),
        area_m2=area,
        left_m=boxes[:, 0],
        bottom_m=boxes[:, 1],
        width_m=boxes[:, 2],
        length_m=boxes[:, 3],
        first_plant=np.array(starts, np.int64),
        crop=crop.astype(np.int64),
        bed=bed_of.astype(np.int64),
        x_m=x_m,
        y_m=y_m,
        edge_share=edge_share,
        ground_area_m2=ground_m2,
        distance_m=_distances(corners),
    )


def _corners(beds: tuple[Bed, ...]) -> Floats:
    """Return left, bottom, width and length of each bed, in as many columns as rows, shape (beds, 4)."""
    in_a_row = max(1, math.ceil(math.sqrt(len(beds))))
    corners = np.zeros((len(beds), 4))
    bottom = 0.0
    for start in range(0, len(beds), in_a_row):
        left, tallest = 0.0, 0.0
        for place in range(start, min(start + in_a_row, len(beds))):
            bed = beds[place]
            corners[place] = left, bottom, bed.width_m, bed.length_m
            left += bed.width_m + PATH_M
            tallest = max(tallest, bed.length_m)
        bottom += tallest + PATH_M
    return corners


def _rows_of_plants(bed: Bed) -> tuple[Floats, Floats, Floats]:
    """Return x, y [m from the bed's corner] and whether a plant stands on the rim, in rows along the bed."""
    count = bed.plant_count
    rows = max(1, min(count, int(round(bed.width_m / bed.row_spacing_m, 2))))
    in_row = math.ceil(count / rows)
    number = np.arange(count)
    row, place = number // in_row, number % in_row
    x = (row + 0.5) * bed.width_m / rows
    y = (place + 0.5) * bed.length_m / in_row
    is_rim = (row == 0) | (row == rows - 1) | (place == 0) | (place == in_row - 1)
    return x, y, is_rim.astype(np.float64)


def _wild_patches(scenario: Scenario, corners: Floats, margin: int) -> list[Floats]:
    """Return the margin's square-metre patches of wild hosts, set round the beds."""
    count = scenario.margin.wild_host_plants
    right = float(np.max(corners[:, 0] + corners[:, 2]))
    top = float(np.max(corners[:, 1] + corners[:, 3]))
    turn = 2.0 * math.pi * (np.arange(count) + 0.5) / max(1, count)
    x = right / 2.0 + (right / 2.0 + 2.0 * MARGIN_DISTANCE_M) * np.cos(turn)
    y = top / 2.0 + (top / 2.0 + 2.0 * MARGIN_DISTANCE_M) * np.sin(turn)
    crop = np.full(count, float(Crop.WILD_HOSTS))
    return [crop, np.full(count, float(margin)), x, y, np.ones(count), np.full(count, _PATCH_M2)]


def _distances(corners: Floats) -> Floats:
    """Return the gap between each two beds [m]; the margin lies beside all of them."""
    count = len(corners)
    distance = np.full((count + 1, count + 1), MARGIN_DISTANCE_M)
    left, bottom = corners[:, 0], corners[:, 1]
    right, top = left + corners[:, 2], bottom + corners[:, 3]
    gap_x = np.maximum(0.0, np.maximum(left[:, None] - right[None, :], left[None, :] - right[:, None]))
    gap_y = np.maximum(0.0, np.maximum(bottom[:, None] - top[None, :], bottom[None, :] - top[:, None]))
    distance[:count, :count] = np.hypot(gap_x, gap_y)
    np.fill_diagonal(distance, 0.0)
    return distance
