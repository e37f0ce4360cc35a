#include "cli/input_examples.hpp"

#include "hostile/broken_files.hpp"

namespace sprocketry::test {
namespace {

constexpr const char* kRequirement = R"(sprocketry: 1
title: Everything at once
currency: CHF
parts: [parts.yaml]
owned: [kestrel-2, "pinion-420:12", slate-100]
bike:
  mass: 198 lb
  max_gross_mass: 330 kg
  wheelbase: 1.33 m
  centre_of_gravity: {height: 0.62 m, behind_front_axle: 0.70 m}
  road_load: {f0: 20 N, f1: 0 N s/m, f2: 0.4 N s2/m2, mass: 210 kg, air: 15 degC, altitude: 100 m}
  accessories: 50 W
  wheel_inertia: 0.9 kg m2
  tyre: {rollout: 6 ft 4 in}
  centre_distance: {min: 560 mm, max: 590 mm}
  primary: {ratio: 1.8, efficiency: 97 %, output_bore: 20 mm, output_key: none, price: 85, mass: 2.4 kg}
  rear_sprocket: {bolt_circle: 104 mm, bolts: 4, max_diameter: 300 mm}
  space: {battery: [{length: 420 mm, width: 190 mm, height: 230 mm}], motor: {diameter: 210 mm, length: 240 mm}}
  chain_line: {wheel_face: 62 mm, shaft_face: 38 mm, rear_spacer: 2 mm}
  swing_arm: {length: 500 mm, shaft_from_pivot: {forward: 75 mm, up: 10 mm}, droop: 15 deg, rest: 8 deg, bump: -4 deg, pivot_diameter: 30 mm}
rider: {mass: 80 kg}
load: {mass: 10 kg}
conditions: {air: 20 degC, altitude: 0 m, headwind: -5 km/h, grip: 0.9, state_of_charge: 80 %, low_state_of_charge: 20 %, winding: 75 degC, pack: {temperature: 5 degC, health: 90 %}}
charging: {outlet: 2.3 kW, price_per_kwh: 0.35}
ride: {steady: 45 km/h}
cruise: [40 km/h]
accelerations: [{from: 40 km/h, to: 70 km/h}]
must:
  top_speed: {min: 70 km/h}
  sustained_speed: {min: 60 km/h}
  pull_away: {to: 50 km/h, max: 8 s}
  range: {min: 45 km}
  cruise_range: [{speed: 60 km/h, min: 30 km}]
  climbs: [{grade: 12 %, speed: 30 km/h, for: 3 min 30 s}]
  hill_start: {grade: 20 %}
  battery_current: {max: 150 A}
  cruise_current: [{speed: 40 km/h, max: 40 A}]
  price: {max: 3500.5}
  mass: {max: 170 kg}
  charge_time: {max: 8 h}
  keeps_up: {min: 98 %}
  vehicle_class: {name: own, top_speed: 60 mph, power: 11 kW, power_per_mass: 0.1 kW/kg}
choose:
  motor: [kestrel-2]
  controller: [vane-200]
  pack: {cells: [slate-100], series: [15, 16], parallel: {from: 1, to: 2}, voltage: [48 V]}
  charger: [well-58]
  chain: {pitch: [1/2 in]}
  front_sprocket: [pinion-420]
  front_teeth: 12
  rear_sprocket: [crown-420]
  rear_teeth: {from: 45, to: 55}
  half_links: yes
objectives: [pull_away, range, price, mass]
)";

constexpr const char* kParts = R"(sprocketry: 1
motors:
  - id: kestrel-2
    kind: brushless
    magnet: neodymium
    speed_constant: 62 rpm/V
    resistance: 14 mohm
    no_load: [{voltage: 24 V, current: 4 A}, {voltage: 48 V, current: 5 A}]
    max_voltage: 90 V
    max_speed: 6000 rpm
    current: {continuous: 110 A_rms, peak: 280 A_rms, for: 60 s}
    thermal: {winding_to_body: 0.08 K/W, body_to_air: 0.12 K/W, winding_capacity: 700 J/K, body_capacity: 4200 J/K, max_winding: 155 degC}
    shaft: {diameter: 7/8 in, key: none, length: 45 mm}
    size: {diameter: 200 mm, length: 180 mm}
    rotor_inertia: 0.006 kg m2
    field_weakening: no
    mass: 11.5 kg
    price: 640
controllers:
  - {id: vane-200, drives: [brushed, brushless], voltage: {min: 36 V, max: 90 V}, current: {battery: 200 A, motor: 300 A, motor_continuous: 150 A, for: 30 s}, settable: yes, efficiency: 97 %, capacitance: 8000 uF, mass: 1.9 kg, price: 260}
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
    cold: {at: -10 degC, resistance: 3, capacity: 70 %}
    charge_efficiency: 98 %
    mass: 2.0 kg
    price: 95
    size: {length: 173 mm, width: 48 mm, height: 170 mm}
    pack: {mass: 4 kg, price: 120, resistance: 2 mohm, current: 250 A}
packs:
  - {id: slate-block, cell: slate-100, series: 16, parallel: 1}
chargers:
  - {id: well-58, chemistries: [lfp], full_voltage: {min: 54 V, max: 60 V}, current: 20 A, efficiency: 92 %, carried: no, mass: 3 kg, price: 150}
chains:
  - {id: linkage-420, size: 420, pitch: 12.7 mm, roller: 7.77 mm, width: 6.35 mm, pin: 3.58 mm, tensile_strength: 15.6 kN, mass_per_length: 0.56 kg/m, loss: 1 %, friction: 0.12, max_speed: 20 m/s, links: 130, price: 26}
  - {id: metre-420, size: "420", price_per_link: 0.30}
front_sprockets:
  - {id: pinion-420, size: 420, teeth: {from: 12, to: 17}, bore: 7/8 in, key: 3/16 in, hub_diameter: 32 mm, hub_length: 25 mm, set_screws: {size: 1/4 in, count: 2}, key_strength: 530 MPa, price: {base: 10, per_tooth: 0.4}, fabrication: 20, mass: {base: 0.2 kg, per_tooth: 0.02 kg}}
rear_sprockets:
  - {id: crown-420, size: "420", teeth: [45, 50, 55], bolt_circle: 104 mm, bolts: 4, price: {base: 30, per_tooth: 0.8}, fabrication: 5, mass: {base: 0.3 kg, per_tooth: 0.012 kg}}
tyres:
  - {size: 3.00-18, rollout: 1.94 m}
extras:
  - {id: contactor, when: {full_voltage: {min: 54 V, max: 60 V}, nominal_voltage: {min: 40 V, max: 80 V}, battery_current: {min: 10 A, max: 300 A}}, mass: 0.4 kg, price: 85}
)";

std::string edited(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

}  // namespace

std::vector<InputExample> input_examples() {
  const std::string& sound = sound_files().at("bike.yaml");
  const std::string& sound_parts = sound_files().at("parts.yaml");
  const std::string ride = "ride: {cycle: r40-urban}";
  return {{kRequirement, kParts},
          {sound, sound_parts},
          {edited(sound, ride, "ride: {trace: ride.csv}"), sound_parts},
          {edited(sound, "  pack: {cells: [slate-100], series: [16], parallel: [1]}",
                  "  pack: [slate-block, slate-100x16s1p]"),
           sound_parts},
          {edited(edited(sound, "front_teeth: [12, 13]", "front_teeth: {from: 12, to: 13}"),
                  "series: [16]", "series: {from: 15, to: 16}"),
           sound_parts},
          {edited(sound, "  drag_area: 0.62 m2\n  posture: upright\n  rolling_resistance: 0.014\n",
                  "  road_load: un-gtr-2\n"),
           sound_parts}};
}

}  // namespace sprocketry::test
