#!/usr/bin/env python3
"""Writes an invented catalogue of a chosen size with its requirement, for measuring the search.

    benchmarks/large_catalogue.py FOLDER [--scale S] [--ride steady|r40-urban] [--seed N]

The number of combinations that pass the pairwise rules grows steeply with the scale; `sprocketry
search FOLDER/job.yaml` prints it. Prices and masses follow the ratings with scatter, so that some
parts are junk (dearer and weaker than others) and some are near twins. Everything is invented.
"""

import argparse
import math
import os
import random

SHAFTS = [("7/8 in", "3/16 in"), ("3/4 in", "3/16 in"), ("1 in", "1/4 in")]
SIZES = ["420", "428", "520"]


def scatter(dice, width):
    return math.exp(dice.gauss(0, width))


def motors(dice, count):
    lines = []
    for i in range(count):
        power = dice.uniform(2.5, 14)  # kW, continuous
        voltage = dice.choice([60, 75, 96, 120])
        speed = dice.uniform(4000, 6000)
        kv = speed / voltage * dice.uniform(0.75, 1.0)
        current = power * 1000 / (0.8 * voltage)
        k = 60 / (2 * math.pi * kv)
        resistance = 0.06 * voltage / current * scatter(dice, 0.2) * 0.5
        mass = 3.5 + 1.1 * power * scatter(dice, 0.15)
        price = 150 + 85 * power * scatter(dice, 0.25)
        heat = 115 / (current**2 * resistance * 1.5)
        kind = "brushed" if dice.random() < 0.3 else "brushless"
        diameter, key = dice.choice(SHAFTS)
        lines.append(
            f"  - {{id: motor-{i:04}, kind: {kind}, speed_constant: {kv:.2f} rpm/V, "
            f"resistance: {1000 * resistance:.3f} mohm, "
            f"no_load: [{{voltage: {voltage // 2} V, current: {0.03 * current:.2f} A}}], "
            f"max_voltage: {voltage} V, max_speed: {speed:.0f} rpm, "
            f"current: {{continuous: {current:.1f} A, peak: {2.6 * current:.1f} A, for: 60 s}}, "
            f"thermal: {{resistance: {heat:.4f} K/W, capacity: {420 * mass:.0f} J/K, max_winding: 155 degC}}, "
            f"shaft: {{diameter: {diameter}, key: {key}}}, mass: {mass:.2f} kg, price: {price:.0f}}}"
        )
        del k
    return lines


def controllers(dice, count):
    lines = []
    for i in range(count):
        battery = dice.uniform(90, 400)
        most = dice.choice([63, 80, 96, 120])
        drives = "[brushed]" if dice.random() < 0.3 else "[brushless]"
        if dice.random() < 0.1:
            drives = "[brushed, brushless]"
        lines.append(
            f"  - {{id: controller-{i:04}, drives: {drives}, voltage: {{min: {dice.choice([24, 30, 36])} V, max: {most} V}}, "
            f"current: {{battery: {battery:.0f} A, motor: {battery * dice.uniform(1.3, 2.2):.0f} A, "
            f"motor_continuous: {battery * dice.uniform(0.7, 1.1):.0f} A, for: 60 s}}, settable: yes, "
            f"efficiency: {dice.uniform(95, 98.5):.1f} %, mass: {0.8 + battery / 160 * scatter(dice, 0.1):.2f} kg, "
            f"price: {60 + 0.9 * battery * most / 80 * scatter(dice, 0.25):.0f}}}"
        )
    return lines


def cells(dice, count):
    lines = []
    for i in range(count):
        chemistry = "lfp" if dice.random() < 0.5 else "nmc"
        capacity = dice.uniform(30, 110)
        rate = dice.uniform(1, 3)
        per_ah = 0.62 if chemistry == "lfp" else 0.85
        weight = 0.020 if chemistry == "lfp" else 0.0165
        lines.append(
            f"  - {{id: cell-{i:04}, chemistry: {chemistry}, capacity: {capacity:.1f} Ah, "
            f"resistance: {70 / capacity / rate * scatter(dice, 0.1):.3f} mohm, "
            f"usable: {{from: 100 %, to: {dice.choice([10, 12, 15])} %}}, "
            f"current: {{continuous: {rate * capacity:.0f} A, peak: {3 * rate * capacity:.0f} A, charge: {0.5 * capacity:.0f} A}}, "
            f"mass: {weight * capacity * scatter(dice, 0.05):.3f} kg, price: {per_ah * capacity * scatter(dice, 0.2) * (0.8 + 0.1 * rate):.2f}, "
            f"pack: {{mass: {dice.uniform(3, 5):.1f} kg, price: {dice.uniform(110, 200):.0f}, resistance: {dice.uniform(1.5, 3):.1f} mohm, "
            f"current: {dice.choice([150, 200, 250, 300, 400])} A}}}}"
        )
    return lines


def chargers(dice, count):
    lines = []
    for i in range(count):
        full = dice.choice([50, 55, 58, 60, 67, 71, 73, 84, 88])
        current = dice.choice([8, 10, 12, 15, 20, 25])
        chemistry = dice.choice(["[lfp]", "[nmc]", "[lfp, nmc]"])
        lines.append(
            f"  - {{id: charger-{i:04}, chemistries: {chemistry}, full_voltage: {{min: {full - 4} V, max: {full + 4} V}}, "
            f"current: {current} A, carried: {'yes' if dice.random() < 0.15 else 'no'}, mass: {1 + current / 8:.1f} kg, "
            f"price: {20 + full * current * 0.09 * scatter(dice, 0.2):.0f}}}"
        )
    return lines


def chains(dice, count):
    lines = []
    for i in range(count):
        size = SIZES[i % len(SIZES)]
        lines.append(
            f"  - {{id: chain-{i:04}, size: \"{size}\", loss: {dice.uniform(0.8, 1.6):.2f} %, friction: {dice.uniform(0.09, 0.14):.3f}, "
            f"links: {dice.choice([120, 130])}, price: {dice.uniform(18, 70):.2f}}}"
        )
    return lines


def fronts(dice, count):
    lines = []
    for i in range(count):
        size = SIZES[i % len(SIZES)]
        diameter, key = SHAFTS[(i // len(SIZES)) % len(SHAFTS)]
        hub = {"7/8 in": 34, "3/4 in": 31, "1 in": 38}[diameter]
        lines.append(
            f"  - {{id: front-{i:04}, size: \"{size}\", teeth: {{from: 11, to: 17}}, bore: {diameter}, key: {key}, hub_diameter: {hub} mm, "
            f"price: {{base: {dice.uniform(6, 16):.1f}, per_tooth: {dice.uniform(0.2, 0.8):.2f}}}, fabrication: {dice.uniform(10, 30):.0f}, "
            f"mass: {dice.uniform(0.35, 0.6):.2f} kg}}"
        )
    return lines


def rears(dice, count):
    lines = []
    for i in range(count):
        size = SIZES[i % len(SIZES)]
        most = {"420": 72, "428": 72, "520": 56}[size]
        lines.append(
            f"  - {{id: rear-{i:04}, size: \"{size}\", teeth: {{from: 34, to: {most}}}, bolt_circle: 104 mm, bolts: 4, "
            f"price: {{base: {dice.uniform(20, 45):.1f}, per_tooth: {dice.uniform(0.5, 1.2):.2f}}}, "
            f"mass: {{base: {dice.uniform(0.2, 0.5):.2f} kg, per_tooth: {dice.uniform(0.008, 0.016):.4f} kg}}}}"
        )
    return lines


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder")
    parser.add_argument("--scale", type=float, default=1.0)
    parser.add_argument("--ride", default="steady", choices=["steady", "r40-urban"])
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    dice = random.Random(given.seed)
    scale = given.scale

    def number(base):
        return max(1, round(base * scale))

    lists = {
        "motors": motors(dice, number(12)),
        "controllers": controllers(dice, number(10)),
        "cells": cells(dice, number(6)),
        "chargers": chargers(dice, number(8)),
        "chains": chains(dice, number(3)),
        "front_sprockets": fronts(dice, number(9)),
        "rear_sprockets": rears(dice, number(3)),
    }
    os.makedirs(given.folder, exist_ok=True)
    with open(os.path.join(given.folder, "parts.yaml"), "w", encoding="utf-8") as out:
        out.write("# Invented parts, written by benchmarks/large_catalogue.py.\n")
        for name, lines in lists.items():
            out.write(f"{name}:\n" + "\n".join(lines) + "\n")
    ride = "{steady: 45 km/h}" if given.ride == "steady" else "{cycle: r40-urban}"
    with open(os.path.join(given.folder, "job.yaml"), "w", encoding="utf-8") as out:
        out.write(
            f"""sprocketry: 1
title: Large catalogue, scale {scale}
parts: [parts.yaml]
bike:
  mass: 95 kg
  tyre: {{rollout: 1.94 m}}
  centre_distance: {{min: 560 mm, max: 592 mm}}
  rear_sprocket: {{bolt_circle: 104 mm, bolts: 4, max_diameter: 300 mm}}
rider: {{mass: 80 kg}}
ride: {ride}
must:
  top_speed: {{min: 70 km/h}}
  range: {{min: 30 km}}
  price: {{max: 6000}}
choose:
  pack: {{series: [13, 14, 15, 16, 20, 24], parallel: [1, 2], voltage: [48 V, 60 V, 72 V]}}
objectives: [pull_away, range, price]
"""
        )


if __name__ == "__main__":
    main()
