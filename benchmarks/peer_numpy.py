#!/usr/bin/python3
"""The job of large_catalogue.py (steady ride) searched exhaustively in NumPy, as a peer to measure.

    benchmarks/peer_numpy.py FOLDER/job.yaml > front.json

Its own arithmetic of the same model, with all the rules and objectives that such a job asks for:
one array operation for all drives of a motor, controller and pack at once, every combination that
fits evaluated, then the Pareto front of pull_away, range and price by sorting. A job with other
demands, another ride or parts with further keys is refused, not half read. Needs python3-numpy and
python3-yaml. The model's equations are those of engine/model; benchmarks/peers compares the fronts.
"""

import bisect
import json
import math
import os
import sys

import numpy as np
import yaml

GRAVITY = 9.80665
COPPER = 0.00393  # 1/K, from 25 degC
AIR_DENSITY = 101325 / (287.05287 * 293.15)  # kg/m3 at 20 degC and sea level
CRR, DRAG_AREA, ACCESSORIES, WHEEL_INERTIA = 0.018, 0.60, 50.0, 1.2
WHEELBASE, CG_HEIGHT, CG_BEHIND, GRIP = 1.35, 0.60, 0.675, 0.9
STATE_OF_CHARGE, AIR, WINDING = 0.8, 20.0, 75.0  # degC
PULL_AWAY_TO = 50 / 3.6  # m/s
LEAST_WRAP, LARGEST_RATIO, LEAST_TEETH, KEY_WALL = math.radians(120), 7.0, 9, 1.5e-3
MONEY = 10000  # whole parts of the currency, so that sums are exact

UNITS = {"": 1, "V": 1, "A": 1, "mohm": 1e-3, "Ah": 3600, "kg": 1, "mm": 1e-3, "m": 1, "in": 0.0254,
         "%": 0.01, "s": 1, "K/W": 1, "J/K": 1, "degC": 1, "rpm": 2 * math.pi / 60, "rpm/V": 2 * math.pi / 60,
         "km": 1000, "km/h": 1 / 3.6}
# size: pitch (m), pin (m), tensile strength (N), kg/m
CHAIN_SIZES = {"420": (12.70e-3, 3.58e-3, 15600, 0.60), "428": (12.70e-3, 4.45e-3, 16700, 0.72),
               "520": (15.875e-3, 5.08e-3, 26500, 0.95)}
# nominal, full and empty voltage, open-circuit voltage over state of charge
CHEMISTRIES = {
    "lfp": (3.2, 3.65, 2.5, [(0, 2.0102), (0.0033, 2.4177), (0.0117, 2.7405), (0.0267, 2.9299), (0.0534, 3.0872),
                             (0.0885, 3.1942), (0.2972, 3.2772), (0.9833, 3.3511), (0.9950, 3.4180), (1, 3.5981)]),
    "nmc": (3.6, 4.2, 3.0, [(0, 2.5), (0.0050, 2.8080), (0.0352, 3.1179), (0.0854, 3.3182), (0.1357, 3.4193),
                            (0.2915, 3.5826), (0.4523, 3.6941), (0.8392, 4.0664), (0.9548, 4.1121), (1, 4.2)]),
}
GAUSS_10 = np.polynomial.legendre.leggauss(10)
GAUSS_5 = np.polynomial.legendre.leggauss(5)


def si(text):
    """A quantity such as "7/8 in" in SI units."""
    number, _, unit = str(text).partition(" ")
    above, _, below = number.partition("/")
    return float(above) / float(below or 1) * UNITS[unit]


def money(value):
    return round(float(value) * MONEY)


def take(entry, keys):
    """The values of just these keys; any other key is one that this script does not know."""
    unknown = set(entry) - set(keys.split())
    if unknown:
        sys.exit(f"peer_numpy.py does not know {sorted(unknown)} of {entry.get('id', entry)}")
    return entry


class Job:
    def __init__(self, path):
        with open(path, encoding="utf-8") as file:
            job = yaml.load(file, yaml.CSafeLoader)
        take(job, "sprocketry title parts bike rider ride must choose objectives")
        if job["objectives"] != ["pull_away", "range", "price"]:
            sys.exit("peer_numpy.py knows the objectives pull_away, range, price only")
        bike = take(job["bike"], "mass tyre centre_distance rear_sprocket")
        self.mass = si(bike["mass"])
        self.rider = si(job["rider"]["mass"])
        self.rollout = si(bike["tyre"]["rollout"])
        self.centre = [si(bike["centre_distance"][end]) for end in ("min", "max")]
        rear = bike["rear_sprocket"]
        self.bolt_circle, self.bolts, self.rear_most = si(rear["bolt_circle"]), rear["bolts"], si(rear["max_diameter"])
        self.ride = si(take(job["ride"], "steady")["steady"])
        must = take(job["must"], "top_speed range price")
        self.least_speed, self.least_range = si(must["top_speed"]["min"]), si(must["range"]["min"])
        self.most_price = money(must["price"]["max"])
        self.pack = take(take(job["choose"], "pack")["pack"], "series parallel voltage")
        self.parts = {}
        for name in job["parts"]:
            with open(os.path.join(os.path.dirname(path), name), encoding="utf-8") as file:
                self.parts |= yaml.load(file, yaml.CSafeLoader)


class Motor:
    def __init__(self, entry):
        take(entry, "id kind speed_constant resistance no_load max_voltage max_speed current thermal shaft mass price")
        self.id, self.kind, self.mass, self.price = entry["id"], entry["kind"], si(entry["mass"]), money(entry["price"])
        self.k = 1 / si(entry["speed_constant"])  # N m/A
        self.cold = si(entry["resistance"])
        self.loss = self.k * si(entry["no_load"][0]["current"])  # N m, one point: constant
        self.most_voltage, self.most_speed = si(entry["max_voltage"]), si(entry["max_speed"])
        self.continuous, self.peak = si(entry["current"]["continuous"]), si(entry["current"]["peak"])
        thermal = take(entry["thermal"], "resistance capacity max_winding")
        self.to_air, self.most_winding = si(thermal["resistance"]), si(thermal["max_winding"])
        self.shaft, self.key = si(entry["shaft"]["diameter"]), si(entry["shaft"]["key"])
        self.inertia = 5e-4 * self.mass


class Controller:
    def __init__(self, entry):
        take(entry, "id drives voltage current settable efficiency mass price")
        if not entry["settable"]:
            sys.exit("peer_numpy.py knows settable controllers only")
        self.id, self.mass, self.price, self.drives = entry["id"], si(entry["mass"]), money(entry["price"]), entry["drives"]
        self.least_voltage, self.most_voltage = si(entry["voltage"]["min"]), si(entry["voltage"]["max"])
        self.battery, self.motor = si(entry["current"]["battery"]), si(entry["current"]["motor"])
        self.efficiency = si(entry["efficiency"])


class Pack:
    def __init__(self, cell, series, parallel):
        take(cell, "id chemistry capacity resistance usable current mass price pack")
        nominal, full, empty, curve = CHEMISTRIES[cell["chemistry"]]
        kit = take(cell["pack"], "mass price resistance current")
        self.id, self.chemistry = f"{cell['id']}x{series}s{parallel}p", cell["chemistry"]
        self.nominal, self.full, self.empty = series * nominal, series * full, series * empty
        self.resistance = series * si(cell["resistance"]) / parallel + si(kit["resistance"])
        self.capacity = parallel * si(cell["capacity"])
        self.mass = series * parallel * si(cell["mass"]) + si(kit["mass"])
        self.price = series * parallel * money(cell["price"]) + money(kit["price"])
        self.continuous = parallel * si(cell["current"]["continuous"])
        self.charge = parallel * si(cell["current"]["charge"])
        self.limit = min(parallel * si(cell["current"]["peak"]), si(kit["current"]))
        soc, voltage = np.array(curve).T
        self.voltage = series * float(np.interp(STATE_OF_CHARGE, soc, voltage))
        # Gauss nodes of the usable window, between the corners of the curve.
        low, high = si(cell["usable"]["to"]), si(cell["usable"]["from"])
        ends = np.array([low, *[s for s in soc if low < s < high], high])
        half, middle = (ends[1:] - ends[:-1]) / 2, (ends[1:] + ends[:-1]) / 2
        nodes = (middle[:, None] + half[:, None] * GAUSS_5[0]).ravel()
        self.weights = (half[:, None] * GAUSS_5[1]).ravel()
        self.node_voltages = series * np.interp(nodes, soc, voltage)


def make_packs(job):
    classes = [si(v) for v in job.pack["voltage"]]
    packs = []
    for cell in job.parts["cells"]:
        for series in job.pack["series"]:
            for parallel in job.pack["parallel"]:
                pack = Pack(cell, series, parallel)
                nearest = min(classes, key=lambda v, p=pack: (abs(p.nominal - v), v))
                if abs(pack.nominal - nearest) <= 0.15 * nearest:
                    packs.append(pack)
    return packs


class Drives:
    """All chains with both sprockets that fit each other and the frame, as columns."""

    def __init__(self, job):
        columns = {name: [] for name in ("chain", "front", "rear", "n1", "n2")}
        lists = job.parts
        for c, chain in enumerate(lists["chains"]):
            take(chain, "id size loss friction links price")
            for f, front in enumerate(lists["front_sprockets"]):
                take(front, "id size teeth bore key hub_diameter price fabrication mass")
                for r, rear in enumerate(lists["rear_sprockets"]):
                    take(rear, "id size teeth bolt_circle bolts price mass")
                    if not chain["size"] == front["size"] == rear["size"]:
                        continue
                    teeth = np.meshgrid(np.arange(front["teeth"]["from"], front["teeth"]["to"] + 1),
                                        np.arange(rear["teeth"]["from"], rear["teeth"]["to"] + 1), indexing="ij")
                    for name, value in zip(columns, (c, f, r, *teeth)):
                        columns[name].append(np.broadcast_to(value, teeth[0].shape).ravel())
        self.columns = {name: np.concatenate(column) for name, column in columns.items()}
        self.fit(job)

    def fit(self, job):
        lists, col = job.parts, self.columns
        chains = np.array([(*CHAIN_SIZES[c["size"]], si(c["loss"]), c["friction"], c["links"], money(c["price"]))
                           for c in lists["chains"]])[col["chain"]]
        fronts = np.array([(si(f["bore"]), si(f["key"]), si(f["hub_diameter"]), si(f["mass"]))
                           for f in lists["front_sprockets"]])[col["front"]]
        rears = np.array([(si(r["bolt_circle"]), r["bolts"], si(r["mass"]["base"]), si(r["mass"]["per_tooth"]))
                          for r in lists["rear_sprockets"]])[col["rear"]]
        pitch, pin, self.strength, self.chain_density, loss, friction, box, chain_price = chains.T
        self.bore, self.key, hub, self.front_mass = fronts.T
        n1, n2 = col["n1"], col["n2"]
        cot = lambda n: 1 / np.tan(np.pi / n)
        offset = (1 / np.sin(np.pi / np.maximum(n1, n2)) - 1 / np.sin(np.pi / np.minimum(n1, n2))) / 2

        def length(centre):  # in pitches, as the centre distance
            turn = np.arcsin(offset / centre) / np.pi
            return (2 * np.sqrt(centre**2 - offset**2) + np.minimum(n1, n2) * (0.5 - turn)
                    + np.maximum(n1, n2) * (0.5 + turn))

        least = np.maximum(job.centre[0], pitch * (1.2 + cot(n1) + cot(n2)) / 2)
        links = 2 * np.ceil((length(least / pitch) - 1e-9) / 2)
        fits = (least <= job.centre[1]) & (links <= length(job.centre[1] / pitch) + 1e-9)
        centre = least / pitch
        for _ in range(8):  # Newton
            root = np.sqrt(centre**2 - offset**2)
            slope = 2 * centre / root - np.abs(n2 - n1) * offset / (np.pi * centre * root)
            centre -= (length(centre) - links) / slope
        wrap = np.pi - 2 * np.arcsin(offset / centre)
        bought = {name: np.array([[money(s["price"]["base"]), money(s["price"]["per_tooth"]), money(s.get("fabrication", 0))]
                                  for s in lists[name]]) for name in ("front_sprockets", "rear_sprockets")}
        price = lambda name, which, n: bought[name][which, 0] + bought[name][which, 1] * n + bought[name][which, 2]
        self.price = (np.ceil(links / box).astype(int) * chain_price.astype(int)
                      + price("front_sprockets", col["front"], n1) + price("rear_sprockets", col["rear"], n2))
        self.reduction = n2 / n1
        self.efficiency = 1 - loss - friction * pin / (2 * pitch) * 2 * np.pi * (1 / n1 + 1 / n2)
        self.chain_mass = self.chain_density * pitch * links
        self.rear_mass = rears[:, 2] + rears[:, 3] * n2
        self.pull_per_torque = 2 * np.tan(np.pi / n1) / pitch
        self.speed_per_turn = n1 * pitch / (2 * np.pi)
        keep = (fits & (wrap >= LEAST_WRAP) & (self.reduction <= LARGEST_RATIO) & (n1 >= LEAST_TEETH)
                & (hub <= pitch * (cot(n1) - 1) - 0.76e-3) & (self.bore / 2 + self.key / 2 + KEY_WALL <= hub / 2)
                & (rears[:, 0] == job.bolt_circle) & (rears[:, 1] == job.bolts)
                & (pitch * (0.6 + cot(n2)) <= job.rear_most))
        self.keep(keep)

    def keep(self, rows):
        for name, value in list(vars(self).items()):
            if isinstance(value, np.ndarray):
                setattr(self, name, value[rows])
        self.columns = {name: column[rows] for name, column in self.columns.items()}

    def for_motor(self, motor):
        part = object.__new__(Drives)
        part.__dict__.update(vars(self))
        part.keep((self.bore == motor.shaft) & (self.key == motor.key))
        return part


class Level:
    """Full throttle of one motor, controller and pack."""

    def __init__(self, motor, controller, pack):
        self.k, self.loss = motor.k, motor.loss
        self.r = motor.cold * (1 + COPPER * (WINDING - 25))
        self.efficiency, self.pack_r = controller.efficiency, pack.resistance
        self.stated, self.cut_off = min(controller.battery, pack.limit), max(pack.empty, controller.least_voltage)
        self.phase = min(motor.peak, controller.motor)
        self.duty_r = self.r + self.pack_r / self.efficiency
        self.e = pack.voltage
        self.battery, self.power = self.given(self.e)

    def given(self, e):
        """Largest battery current and motor power at an open-circuit voltage."""
        current = np.maximum(0, np.minimum(np.minimum(self.stated, (e - self.cut_off) / self.pack_r), e / (2 * self.pack_r)))
        return current, self.efficiency * current * (e - current * self.pack_r)

    def current(self, w, e=None, power=None):
        """Largest motor current at motor speed w."""
        e = self.e if e is None else e
        power = self.power if power is None else power
        back = self.k * w
        by_battery = 2 * power / (back + np.sqrt(back * back + 4 * self.r * power))
        return np.maximum(0, np.minimum(np.minimum(self.phase, by_battery), (e - back) / self.duty_r))

    def torque(self, w):
        return self.k * self.current(w) - self.loss

    def corners(self):
        """Motor speeds at which another limit takes over."""
        return ((self.power - self.phase**2 * self.r) / (self.k * self.phase),
                (self.e - self.phase * self.duty_r) / self.k,
                (self.e - self.efficiency * self.battery * self.duty_r) / self.k,
                (self.e - self.efficiency * (self.e / self.pack_r - self.battery) * self.duty_r) / self.k)

    def speed_of(self, torque):
        """Motor speed at which full throttle has fallen to a torque."""
        i = (torque + self.loss) / self.k
        return np.minimum((self.e - i * self.duty_r) / self.k, (self.power / i - i * self.r) / self.k)


def pull_ok(level, motor, drives):
    """The chain stands full throttle, centrifugal pull included."""
    largest = np.zeros_like(drives.strength)
    for w in (0.0, *level.corners(), float(level.speed_of(0.0)), level.e / level.k):
        torque = level.torque(w)
        if w < 0 or torque < -1e-9 * level.torque(0.0):
            continue
        largest = np.maximum(largest, drives.pull_per_torque * max(torque, 0.0)
                             + drives.chain_density * (drives.speed_per_turn * w)**2)
    return largest <= drives.strength / 2


def evaluate(job, motor, controller, pack, drives, carried):
    """Rows (drive, pull-away, range) of all drives that pass with a charger of that mass aboard."""
    level = Level(motor, controller, pack)
    mass = job.mass + motor.mass + controller.mass + pack.mass + carried
    mass = mass + drives.chain_mass + drives.front_mass + drives.rear_mass + job.rider
    ratio = drives.reduction * 2 * np.pi / job.rollout
    lever = ratio * drives.efficiency
    transfer = GRIP * CG_HEIGHT / WHEELBASE
    held = np.minimum(GRIP * mass * GRAVITY * (CG_BEHIND / WHEELBASE) / (1 - transfer),
                      mass * GRAVITY * (WHEELBASE - CG_BEHIND) / CG_HEIGHT)
    drag = 0.5 * AIR_DENSITY * DRAG_AREA

    def surplus(v, rows=slice(None)):
        force = np.maximum(0, np.minimum(level.torque(ratio[rows] * v) * lever[rows], held[rows]))
        return force - (mass[rows] * GRAVITY * CRR + drag * v * v)

    road = mass * GRAVITY * CRR + drag * job.ride**2
    w = ratio * job.ride
    asked = (road / lever + motor.loss) / motor.k
    most_i = np.minimum(level.current(w), (held / lever + motor.loss) / motor.k)
    current = np.minimum(asked, most_i)
    power = current * (current * level.r + level.k * w)
    drawn = pack_current(level, power)
    heat = current**2 * motor.cold
    copper = 1 - COPPER * heat * motor.to_air
    body_to_air = 0.6 * motor.to_air
    winding = (AIR + body_to_air * motor.loss * w + motor.to_air * heat * (1 - 25 * COPPER)) / copper
    # Top speed: the surplus falls with speed, so its sign at a limit tells on which side it lies.
    passed = (pull_ok(level, motor, drives) & (surplus(job.least_speed) >= 0)
              & (surplus(motor.most_speed / ratio) <= 0)
              & (current <= motor.continuous) & (drawn <= pack.continuous)
              & (copper > 0) & (winding <= motor.most_winding))
    rows = np.flatnonzero(passed)
    if not rows.size:
        return rows, rows, rows
    distance = ride_range(job, level, pack, asked[rows], w[rows])
    rows, distance = rows[distance >= job.least_range], distance[distance >= job.least_range]
    return rows, pull_away(level, motor, ratio[rows], lever[rows], held[rows], mass[rows], job, surplus, rows), distance


def pack_current(level, power, e=None):
    e = level.e if e is None else e
    inside = np.maximum(0, e * e - 4 * level.pack_r * (power / level.efficiency + ACCESSORIES))
    return 2 * (power / level.efficiency + ACCESSORIES) / (e + np.sqrt(inside))


def ride_range(job, level, pack, asked, w):
    e = pack.node_voltages[:, None]
    most = level.current(w, e, level.given(e)[1])
    current = np.minimum(asked, most)
    if (current < asked).any():
        sys.exit("peer_numpy.py: a bike falls behind on the ride; its range would not be exact")
    power = current * (current * level.r + level.k * w)
    return pack.capacity * (pack.weights @ (job.ride / pack_current(level, power, e)))


def pull_away(level, motor, ratio, lever, held, mass, job, surplus, rows):
    """Gauss between the corners of full throttle."""
    corners = [np.full(rows.size, c) / ratio for c in level.corners()]
    corners.append(level.speed_of(held / lever) / ratio)
    ends = np.clip(np.array([np.zeros(rows.size), *corners, np.full(rows.size, PULL_AWAY_TO)]), 0, PULL_AWAY_TO)
    ends.sort(axis=0)
    time = np.zeros(rows.size)
    for low, high in zip(ends[:-1], ends[1:]):
        if not (high > low).any():
            continue
        half, middle = (high - low) / 2, (high + low) / 2
        for node, weight in zip(*GAUSS_10):
            time += half * weight / surplus(middle + half * node, rows)
    radius = job.rollout / (2 * math.pi)
    return time * (mass + WHEEL_INERTIA / radius**2 + motor.inertia * ratio**2)


def electrical(motor, controller, pack):
    return (motor.kind in controller.drives and pack.full <= min(controller.most_voltage, motor.most_voltage)
            and pack.empty >= controller.least_voltage)


def charges(charger, pack):
    take(charger, "id chemistries full_voltage current carried mass price")
    voltage = charger["full_voltage"]
    return (pack.chemistry in charger["chemistries"] and si(voltage["min"]) <= pack.full <= si(voltage["max"])
            and si(charger["current"]) <= pack.charge)


def front_of(points):
    """Places of the points that none dominates, by sorting and a staircase of (range, price)."""
    pull, distance, price = points
    ranges, prices, members = [], [], []  # staircase: -range ascending, price descending
    last = None
    for place in np.lexsort((price, -distance, pull)).tolist():
        here = (pull[place], -distance[place], price[place])
        if here == last:
            members.append(place)
            continue
        at = bisect.bisect_right(ranges, here[1])
        if at and prices[at - 1] <= here[2]:
            continue
        last = here
        members.append(place)
        end = at
        while end < len(ranges) and prices[end] >= here[2]:
            end += 1
        if at and ranges[at - 1] == here[1]:
            at -= 1
        ranges[at:end], prices[at:end] = [here[1]], [here[2]]
    return members


def main():
    job = Job(sys.argv[1])
    motors = [Motor(m) for m in job.parts["motors"]]
    controllers = [Controller(c) for c in job.parts["controllers"]]
    packs, drives = make_packs(job), Drives(job)
    chargers = job.parts["chargers"]
    fitting = {pack.id: [h for h, charger in enumerate(chargers) if charges(charger, pack)] for pack in packs}
    carried = [si(h["mass"]) if h["carried"] else 0.0 for h in chargers]
    cost = [money(h["price"]) for h in chargers]
    found, compatible = [], 0
    for m, motor in enumerate(motors):
        own = drives.for_motor(motor)
        for c, controller in enumerate(controllers):
            for p, pack in enumerate(packs):
                if not own.price.size or not fitting[pack.id] or not electrical(motor, controller, pack):
                    continue
                compatible += own.price.size * len(fitting[pack.id])
                physics = {mass: evaluate(job, motor, controller, pack, own, mass)
                           for mass in {carried[h] for h in fitting[pack.id]}}
                for h in fitting[pack.id]:
                    rows, pull, distance = physics[carried[h]]
                    price = own.price[rows] + motor.price + controller.price + pack.price + cost[h]
                    ok = price <= job.most_price
                    place = np.tile((m, c, p, h), (np.count_nonzero(ok), 1))
                    drive = np.stack([own.columns[name][rows[ok]] for name in own.columns], axis=1)
                    found.append((pull[ok], distance[ok], price[ok], np.hstack((place, drive))))
    pull, distance, price, which = (np.concatenate(column) for column in zip(*found))
    front = front_of((pull, distance, price))
    lists = job.parts
    members = []
    for place in front:
        m, c, p, h, chain, f, r, n1, n2 = which[place]
        members.append({"id": "/".join((motors[m].id, controllers[c].id, packs[p].id, chargers[h]["id"],
                                        lists["chains"][chain]["id"], f"{lists['front_sprockets'][f]['id']}:{n1}",
                                        f"{lists['rear_sprockets'][r]['id']}:{n2}")),
                        "pull_away_s": pull[place], "range_km": distance[place] / 1000, "price": price[place] / MONEY})
    json.dump({"compatible": int(compatible), "evaluated": int(pull.size), "front": members}, sys.stdout)


if __name__ == "__main__":
    main()
