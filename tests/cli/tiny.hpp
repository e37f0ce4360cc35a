#pragma once

// A requirement and its parts for tests of the program: small, but with every slot, every list and
// a front of more than 24 designs. Makers, names, prices and data are invented.

namespace sprocketry::test::tiny {

inline constexpr const char* kTinyRequirement = R"(sprocketry: 1
title: Tiny town bike
parts: [parts.yaml]
bike:
  mass: 90 kg
  tyre: {size: 3.00-18}
  centre_distance: {min: 560 mm, max: 592 mm}
  rear_sprocket: {bolt_circle: 104 mm, bolts: 4, max_diameter: 290 mm}
rider: {mass: 80 kg}
cruise: [40 km/h, 65 km/h]
accelerations: [{from: 30 km/h, to: 65 km/h}]
must:
  top_speed: {min: 60 km/h}
  range: {min: 20 km}
  climbs: [{grade: 10 %, speed: 25 km/h, for: 2 min}]
  battery_current: {max: 180 A}
  keeps_up: {min: 95 %}
choose:
  pack: {cells: [flint-60, flint-40], series: [14, 16, 20], parallel: 1}
  chain: ["420"]
)";

inline constexpr const char* kTinyParts = R"(motors:
  - id: alder-4
    kind: brushed
    speed_constant: 66 rpm/V
    resistance: 18 mohm
    no_load: [{voltage: 48 V, current: 5 A}]
    max_voltage: 80 V
    max_speed: 5500 rpm
    current: {continuous: 100 A, peak: 250 A, for: 60 s}
    thermal: {winding_to_body: 0.08 K/W, body_to_air: 0.17 K/W, winding_capacity: 600 J/K, body_capacity: 4000 J/K, max_winding: 155 degC}
    shaft: {diameter: 7/8 in, key: 3/16 in, length: 45 mm}
    mass: 10 kg
    price: 520
  - id: birch-6
    kind: brushless
    speed_constant: 55 rpm/V
    resistance: 9 mohm
    no_load: [{voltage: 48 V, current: 4 A}]
    max_voltage: 100 V
    max_speed: 6000 rpm
    current: {continuous: 120 A, peak: 320 A, for: 60 s}
    shaft: {diameter: 7/8 in, key: 3/16 in, length: 45 mm}
    mass: 12 kg
    price: 870.25
controllers:
  - {id: gate-b, drives: [brushed], voltage: {min: 24 V, max: 80 V}, current: {battery: 150 A, motor: 250 A}, settable: no, mass: 1.6 kg, price: 190}
  - {id: gate-x, drives: [brushed, brushless], voltage: {min: 36 V, max: 90 V}, current: {battery: 200 A, motor: 320 A}, mass: 2.1 kg, price: 390}
cells:
  - {id: flint-60, chemistry: lfp, capacity: 60 Ah, resistance: 1 mohm, current: {continuous: 90 A, peak: 180 A, charge: 30 A}, mass: 1.2 kg, price: 42,
     pack: {mass: 3 kg, price: 110, resistance: 2 mohm}}
  - {id: flint-40, chemistry: lfp, capacity: 40 Ah, resistance: 1.4 mohm, current: {continuous: 80 A, peak: 160 A, charge: 20 A}, mass: 0.9 kg, price: 27,
     pack: {mass: 3 kg, price: 110, resistance: 2 mohm}}
chargers:
  - {id: well-15, chemistries: [lfp], full_voltage: {min: 48 V, max: 74 V}, current: 15 A, mass: 3 kg, price: 160}
chains:
  - {id: pull-420, size: "420", links: 130, price: 24}
front_sprockets:
  - {id: small-420, size: "420", teeth: {from: 12, to: 16}, bore: 7/8 in, key: 3/16 in, hub_diameter: 32 mm, price: {base: 10, per_tooth: 0.4}, mass: 0.5 kg}
rear_sprockets:
  - {id: large-420, size: "420", teeth: {from: 48, to: 68}, bolt_circle: 104 mm, bolts: 4, price: {base: 30, per_tooth: 0.8}, mass: {base: 0.3 kg, per_tooth: 0.012 kg}}
extras:
  - {id: breaker-70, when: {full_voltage: {min: 60 V}}, mass: 0.4 kg, price: 65}
)";

}  // namespace sprocketry::test::tiny
