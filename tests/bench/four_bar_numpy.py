"""The curves of tests/reference/four_bar_by_hand.hpp in vectorised NumPy: blocks of layouts side by side.

Arrays have one row a station and one column a layout. Blocks are small enough for the processor's caches; the best
block size is searched. The algebra is that of the routine written by hand, so what differs is the language alone.
Usage: four_bar_numpy.py LAYOUTS.json OUT.json
"""

import json
import sys
import time

import numpy as np

TOLERANCE = 1e-9  # of a curve's greatest value
BLOCKS = (125, 250, 500, 1000)


def curves(bike, pivots, stations):
    """`pivots`: 14 rows (x and y of main, stay, axle, tail, rocker, eye, mount), one column a layout."""
    ax, ay, bx, by, px, py, cx, cy, dx, dy, ex, ey, mx, my = pivots
    # Constants of a layout.
    basex, basey, armx, army = mx - dx, my - dy, ex - dx, ey - dy
    shockx, shocky = mx - ex, my - ey
    upx, upy, lowx, lowy, coux, couy = cx - dx, cy - dy, bx - ax, by - ay, cx - bx, cy - by
    length = np.sqrt(shockx * shockx + shocky * shocky)
    inv_base2 = 1.0 / (basex * basex + basey * basey)
    arm2 = armx * armx + army * army
    arm_ratio2 = arm2 * inv_base2
    rx, ry = (upx * armx + upy * army) / arm2, (upy * armx - upx * army) / arm2
    tailx, taily = basex * rx - basey * ry, basex * ry + basey * rx
    eye_side = np.where(basex * army - basey * armx < 0.0, -1.0, 1.0)
    lower2 = lowx * lowx + lowy * lowy
    cou2 = coux * coux + couy * couy
    less = lower2 - cou2
    stay_side = np.where((cx - ax) * lowy - (cy - ay) * lowx < 0.0, -1.0, 1.0)
    toax, toay = px - bx, py - by
    axrx, axry = (toax * coux + toay * couy) / cou2, (toay * coux - toax * couy) / cou2

    # The rocker, closed by the shock.
    compression = (bike["stroke"] * np.arange(stations) / (stations - 1))[:, None]
    shock = length - compression
    along = shock * shock
    along *= -0.5 * inv_base2
    along += 0.5 * (1.0 + arm_ratio2)
    across = along * along
    np.subtract(arm_ratio2, across, out=across)
    np.maximum(across, 0.0, out=across)
    np.sqrt(across, out=across)
    across *= eye_side
    upx = tailx * along - taily * across
    upy = tailx * across + taily * along

    # The coupler.
    reachx, reachy = upx + (dx - ax), upy + (dy - ay)
    reach2 = reachx * reachx
    reach2 += reachy * reachy
    inverse = 1.0 / reach2
    on = less * inverse
    on += 1.0
    on *= 0.5
    off = lower2 * inverse
    off -= on * on
    np.maximum(off, 0.0, out=off)
    np.sqrt(off, out=off)
    off *= stay_side
    lowx = reachx * on - reachy * off
    lowy = reachx * off + reachy * on
    reachx -= lowx
    reachy -= lowy  # from here the coupler
    toax = reachx * axrx - reachy * axry
    toay = reachx * axry + reachy * axrx
    axle_x = lowx + toax
    axle_x += ax
    axle_y = lowy + toay
    axle_y += ay

    # Rates.
    shock *= inv_base2
    across *= reach2
    across *= off
    shock /= across  # from here the common scale
    lower_rate = upx * reachy - upy * reachx
    lower_rate *= shock
    coupler_rate = lowx * upy - lowy * upx
    coupler_rate *= shock
    lowy *= lower_rate
    lowx *= lower_rate
    toay *= coupler_rate
    toax *= coupler_rate
    vx = -(lowy + toay)
    leverage = lowx
    leverage += toax

    # Ground and anti figures.
    travel = axle_y - axle_y[0]
    fork = travel * (bike["fork_travel"] / travel[-1])
    qx = fork * bike["steer_x"]
    qx += bike["front_x"]
    qx -= axle_x
    qy = fork
    qy *= bike["steer_y"]
    qy += bike["front_y"]
    qy -= axle_y
    apart2 = qx * qx
    apart2 += qy * qy
    difference = bike["front_radius"] - bike["rear_radius"]
    wheelbase = np.sqrt(apart2 - difference * difference)
    if difference == 0.0:
        tx, ty = qx * wheelbase, qy * wheelbase
    else:
        tx = qx * wheelbase + qy * difference
        ty = qy * wheelbase - qx * difference
    tx /= apart2
    ty /= apart2
    radius = bike["rear_radius"]
    from_cg = bike["cg_x"] - axle_x
    cg_y = axle_y[0] + (bike["cg_height"] - radius + ty[0] * from_cg[0]) / tx[0]
    height = (cg_y - axle_y) * tx
    from_cg *= ty
    height -= from_cg
    height += radius
    forward = vx * tx
    forward += leverage * ty
    height *= leverage * tx - vx * ty
    wheelbase *= -100.0
    wheelbase /= height  # from here per unit of forward speed
    coupler_rate *= radius
    coupler_rate += forward
    coupler_rate *= wheelbase  # from here anti-rise

    # Chain.
    stay2 = axle_x * axle_x
    stay2 += axle_y * axle_y
    inverse = 1.0 / stay2
    nx, ny = axle_x * inverse, axle_y * inverse
    squats, growths = [], []
    for cog, ring in zip(bike["cog"], bike["ring"]):
        step = cog - ring
        span = np.sqrt(stay2 - step * step)
        alongx = nx * span
        alongx += ny * step
        alongy = ny * span
        alongy -= nx * step  # both with the sign turned
        rolled = alongx * vx
        rolled += alongy * leverage
        rolled *= -radius / cog
        rolled += forward
        rolled *= wheelbase
        squats.append(rolled)
        sine = alongx[0] * alongy
        sine -= alongy[0] * alongx
        span -= span[0]
        span -= step * np.arcsin(sine)
        growths.append(span)
    return [travel, leverage, axle_x, axle_y, coupler_rate, *squats, *growths]


def worst_difference(bike, pivots, stations, expected):
    """Greatest difference from the engine's curves, relative to each curve's greatest value in each layout."""
    got = np.stack(curves(bike, pivots, stations))  # curve, station, layout
    want = np.asarray(expected).transpose(1, 2, 0)
    return float((np.abs(got - want).max(axis=1) / np.abs(want).max(axis=1)).max())


def nanoseconds_a_layout(bike, pivots, stations, block):
    blocks = [np.ascontiguousarray(pivots[:, i : i + block]) for i in range(0, pivots.shape[1], block)]
    best = float("inf")
    for _ in range(20):
        start = time.process_time_ns()
        for _ in range(3):
            for b in blocks:
                curves(bike, b, stations)
        best = min(best, (time.process_time_ns() - start) / (3 * pivots.shape[1]))
    return best


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        data = json.load(file)
    pivots = np.asarray(data["pivots"]).reshape(len(data["pivots"]), 14).T.copy()
    worst = worst_difference(data["bike"], pivots, data["stations"], data["curves"])
    if not worst <= TOLERANCE:
        sys.exit(f"NumPy's curves differ from the engine's by {worst:.2e} of their greatest value")
    times = {block: nanoseconds_a_layout(data["bike"], pivots, data["stations"], block) for block in BLOCKS}
    best = min(times, key=times.get)
    with open(sys.argv[2], "w", encoding="utf-8") as file:
        result = {"ns": times[best], "block": best, "all": times, "worst_difference": worst, "version": np.__version__}
        json.dump(result, file)


main()
