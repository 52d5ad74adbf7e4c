"""Measure `staydown report`: the demo, and a long job of 12 items, 120 mounts and 400 coupons, as whole processes.

What is promised: the demo in 3 s, the long job in 10 s and 400 MB.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import tempfile
from importlib.resources import files
from pathlib import Path

from whole_process import PYTHON, STAYDOWN, measure

ITEMS, STATIONS, COUPONS = 12, 5, 400
PROMISED = {"demo": (3.0, 400.0), "long job": (10.0, 400.0)}  # [s, MB]
LEVELS_N = {-12: 2700, 22: 2100, 78: 1080, 80: 1050}  # invented: middle of the pulls by temperature in degC


def lay_out_long_job(folder: Path) -> None:
    """Write an invented job of many panels on a long roof, and record its coupons."""
    demo = files("staydown.library").joinpath("demo", "job.toml").read_text(encoding="utf-8")
    head = demo[: demo.index("[[item]]")]
    head = head.replace('roof_length = "3.9 m"', 'roof_length = "11.5 m"').replace('"1.70 m"', '"2.5 m"')
    (folder / "job.toml").write_text(head + "".join(map(_item, range(ITEMS))), encoding="utf-8")
    draw = random.Random(1)
    rows = ["name,tape,surface,mode,result,load,area,lasted,temperature,dwell,failure_pattern,made_on,foot"]
    rows += [_coupon(number, draw) for number in range(COUPONS)]
    (folder / "coupons.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    subprocess.run(
        [STAYDOWN, "record", "coupons", str(folder), str(folder / "coupons.csv"), "--quiet"], check=True
    )


def _item(number: int) -> str:
    side = 0.55 if number % 2 == 0 else -0.55
    lines = [
        "[[item]]",
        f'name = "panel {number + 1}"',
        'kind = "solar panel"',
        'length = "1.5 m"',
        'width = "0.9 m"',
        'thickness = "35 mm"',
        'mass = "11 kg"',
        'gap = "40 mm"',
        f'behind_roof_front = "{0.5 + 1.8 * (number // 2):.2f} m"',
        f'left_of_centre = "{side} m"',
        'front_edge = "open"',
        "sharp = true",
        'material = "glass in aluminium frame"',
        'tape = "grey foam"',
    ]
    for station in range(STATIONS):
        for sign, name in ((1, "left"), (-1, "right")):
            lines += [
                "[[item.mount]]",
                f'name = "row {station + 1} {name}"',
                f'behind = "{100 + 325 * station} mm"',
                f'left = "{400 * sign} mm"',
                'pad = "100 mm x 60 mm"',
                f'lever = "{8 * sign} mm"',
                'lever_direction = "across"',
                'lever_side = "given"',
                'foot_thickness = "12 mm"',
                'foot_material = "aluminium"',
                'fastener = "M6 A2-70"',
            ]
    return "\n".join(lines) + "\n"


def _coupon(number: int, draw: random.Random) -> str:
    celsius = draw.choice(sorted(LEVELS_N))
    mode = "tension" if number % 4 else "shear"
    broke = number % 7 != 0
    load = LEVELS_N[celsius] * (draw.uniform(0.9, 1.1) if broke else 0.35)
    result, lasted, face = ("broke", "8 s", "cohesive") if broke else ("holding", "40 h", "")
    made = f"2026-0{1 + number % 4}-11"
    return (
        f"c{number},grey foam,painted_steel,{mode},{result},{load:.0f} N,60 mm x 60 mm,{lasted},{celsius} degC,72 h,"
        f"{face},{made},real"
    )


def main() -> None:
    """Measure both jobs and print one line each; exit 1 where a promise is broken."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--runs", type=int, default=3, help="runs of each process (3)")
    runs = parser.parse_args().runs
    broken = False
    with tempfile.TemporaryDirectory() as place:
        demo, long_job = Path(place) / "demo", Path(place) / "long"
        long_job.mkdir()
        subprocess.run([STAYDOWN, "demo", str(demo)], check=True, stdout=subprocess.DEVNULL)
        lay_out_long_job(long_job)
        base = measure([PYTHON, "-c", "import numpy, scipy.special"], runs)
        print(f"{'process':24} {'s':>7} {'MB':>6} {'s / base':>9}   promised")
        for name, folder in (("demo", demo), ("long job", long_job)):
            one = measure([STAYDOWN, "report", str(folder), "--quiet"], runs)
            seconds, megabytes = PROMISED[name]
            broken |= one.seconds > seconds or one.megabytes > megabytes
            print(
                f"report {name:17} {one.seconds:7.2f} {one.megabytes:6.0f} {one.seconds / base.seconds:9.1f}   "
                f"{seconds:g} s, {megabytes:g} MB"
            )
    sys.exit(1 if broken else 0)


if __name__ == "__main__":
    main()
