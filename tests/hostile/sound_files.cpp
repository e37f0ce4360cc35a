#include "broken_files.hpp"

namespace sprocketry::test {
namespace {

// All makers and parts are invented. Each key has a line of its own, so that a row can replace it.
constexpr const char* kRequirement = R"(sprocketry: 1
title: Harbour runabout
currency: EUR
parts: [parts.yaml]
owned: [hollin-48]
bike:
  mass: 96 kg
  max_gross_mass: 330 kg
  wheelbase: 1.33 m
  centre_of_gravity: {height: 0.62 m, behind_front_axle: 0.70 m}
  drag_area: 0.62 m2
  posture: upright
  rolling_resistance: 0.014
  accessories: 50 W
  wheel_inertia: 0.9 kg m2
  tyre: {size: 3.00-18}
  centre_distance: {min: 560 mm, max: 590 mm}
  primary: {ratio: 1.2, efficiency: 97 %, output_bore: 7/8 in, output_key: 3/16 in, price: 85, mass: 2.4 kg}
  space: {battery: [{length: 420 mm, width: 190 mm, height: 230 mm}], motor: {diameter: 210 mm, length: 240 mm}}
  rear_sprocket: {bolt_circle: 104 mm, bolts: 4, max_diameter: 300 mm}
rider: {mass: 80 kg}
load: {mass: 10 kg}
conditions:
  air: 20 degC
  headwind: 0 km/h
  grip: 0.9
  state_of_charge: 80 %
  low_state_of_charge: 20 %
ride: {cycle: r40-urban}
cruise: [40 km/h, 70 km/h]
accelerations: [{from: 40 km/h, to: 70 km/h}]
must:
  top_speed: {min: 70 km/h}
  pull_away: {to: 50 km/h, max: 8 s}
  range: {min: 45 km}
  cruise_range: [{speed: 60 km/h, min: 30 km}]
  climbs: [{grade: 12 %, speed: 30 km/h, for: 3 min}]
  hill_start: {grade: 20 %}
  battery_current: {max: 150 A}
  price: {max: 3500}
  keeps_up: {min: 98 %}
choose:
  motor: [hollin-48]
  controller: [vane-200]
  pack: {cells: [slate-100], series: [16], parallel: [1]}
  charger: [well-58]
  chain: ["420"]
  front_teeth: [12, 13]
  rear_teeth: {from: 45, to: 55}
  half_links: no
objectives: [pull_away, range, price]
)";

constexpr const char* kParts = R"(motors:
  - id: hollin-48
    kind: brushed
    speed_constant: 62 rpm/V
    resistance: 14 mohm
    no_load: [{voltage: 48 V, current: 5 A}]
    max_voltage: 90 V
    max_speed: 6000 rpm
    current: {continuous: 110 A, peak: 280 A, for: 60 s}
    thermal: {resistance: 0.2 K/W, capacity: 4900 J/K, max_winding: 155 degC}
    shaft: {diameter: 7/8 in, key: 3/16 in, length: 45 mm}
    size: {diameter: 200 mm, length: 180 mm}
    rotor_inertia: 0.006 kg m2
    mass: 11.5 kg
    price: 640
controllers:
  - id: vane-200
    drives: [brushed]
    voltage: {min: 36 V, max: 90 V}
    current: {battery: 200 A, motor: 300 A, motor_continuous: 150 A}
    settable: yes
    efficiency: 97 %
    mass: 1.9 kg
    price: 260
cells:
  - id: slate-100
    chemistry: lfp
    capacity: 100 Ah
    resistance: 0.7 mohm
    nominal_voltage: 3.2 V
    open_circuit: [[0 %, 2.80 V], [50 %, 3.29 V], [100 %, 3.45 V]]
    full_voltage: 3.65 V
    empty_voltage: 2.50 V
    usable: {from: 100 %, to: 15 %}
    current: {continuous: 100 A, peak: 300 A, charge: 50 A}
    peukert: {exponent: 1.0, hours: 20}
    mass: 2.0 kg
    price: 95
    size: {diameter: 40 mm, length: 145 mm}
packs:
  - {id: slate-block, cell: slate-100, series: 16, parallel: 1}
chargers:
  - {id: well-58, chemistries: [lfp], full_voltage: {min: 56 V, max: 60 V}, current: 20 A, price: 150}
chains:
  - {id: linkage-420, size: "420", links: 130, price: 26}
front_sprockets:
  - {id: pinion-420, size: "420", teeth: {from: 12, to: 17}, price: 10, mass: 0.5 kg}
rear_sprockets:
  - {id: crown-420, size: "420", teeth: {from: 40, to: 72}, price: 30, mass: 0.8 kg}
extras:
  - {id: contactor, when: {full_voltage: {min: 60 V}}, mass: 0.4 kg, price: 85}
)";

}  // namespace

const std::map<std::string, std::string>& sound_files() {
  static const std::map<std::string, std::string> files = {{"bike.yaml", kRequirement},
                                                           {"parts.yaml", kParts}};
  return files;
}

}  // namespace sprocketry::test
