#pragma once

#include <limits>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "model/chain_line.hpp"
#include "model/profile.hpp"
#include "model/road.hpp"
#include "model/suspension.hpp"
#include "parts/catalogue.hpp"
#include "spec/vehicle_class.hpp"

namespace sprocketry::spec {

using parts::Default;
using parts::Interval;
using parts::Money;

// What the rear wheel asks of a sprocket; fields in m.
struct RearMount {
  std::optional<double> bolt_circle;
  std::optional<int> bolts;
  std::optional<double> max_diameter;
};

// A stage between motor and front sprocket, such as a jackshaft behind a toothed belt.
struct Primary {
  double ratio = 1;                    // turns of the motor per turn of the output shaft
  double efficiency = 1;               // 0..1
  std::optional<parts::Shaft> output;  // carries the front sprocket
  Money price = 0;
  double mass = 0;  // kg
};

// What the frame has room for.
struct Room {
  std::vector<model::Box> battery;
  std::optional<model::Cylinder> motor;  // its axis across the bike, as the motor's
};

struct Bike {
  double mass = 0;  // kg, rolling chassis without any chosen part
  std::optional<double> max_gross_mass;
  double wheelbase = 0;                 // m
  double centre_of_gravity_height = 0;  // m, with rider
  double centre_of_gravity_behind = 0;  // m behind the front axle, with rider
  model::RoadLaw road;
  double accessories = 0;            // W
  double wheel_inertia = 0;          // kg m2, both wheels
  double rolling_circumference = 0;  // m
  double min_centre_distance = 0;    // m, shaft to axle
  double max_centre_distance = 0;    // m
  std::optional<Primary> primary;
  std::optional<Room> space;
  RearMount rear;
  std::optional<model::SwingArm> swing_arm;
  std::optional<model::ChainLine> chain_line;
  std::optional<double> pivot_diameter;  // m, of the tube or hub round the arm's pivot
};

struct Conditions {
  double air_temperature = 0;      // K
  double altitude = 0;             // m
  double headwind = 0;             // m/s
  double grip = 0;                 // coefficient of friction
  double state_of_charge = 0;      // 0..1
  double low_state_of_charge = 0;  // 0..1
  double winding_temperature = 0;  // K
  model::CellState pack;
};

struct SpeedChange {
  double from = 0;  // m/s
  double to = 0;    // m/s
};

struct Climb {
  double grade = 0;     // tan
  double speed = 0;     // m/s
  double duration = 0;  // s
};

// A limit at a speed (m/s).
struct AtSpeed {
  double speed = 0;
  double limit = 0;
};

// What must hold; SI, absent when not demanded.
struct Demands {
  std::optional<double> top_speed;
  std::optional<double> sustained_speed;
  std::optional<double> pull_away_time;  // s, longest
  std::optional<double> range;           // m
  std::vector<AtSpeed> cruise_range;     // limit in m, shortest
  std::vector<Climb> climbs;
  std::optional<double> hill_start_grade;  // tan
  std::optional<double> battery_current;   // A, the ceiling
  std::vector<AtSpeed> cruise_current;     // limit in A, largest
  std::optional<Money> price;
  std::optional<double> mass;         // kg
  std::optional<double> charge_time;  // s
  std::optional<double> keeps_up;     // share 0..1
  std::optional<VehicleClass> vehicle_class;
};

// Where the pack is charged.
struct Charging {
  // W that the wall gives; infinity: no limit
  double outlet_power = std::numeric_limits<double>::infinity();
  std::optional<Money> energy_price;  // of 1 kWh from the wall
};

// Packs generated from cells, or packs by id, or (neither) every named pack.
struct PackChoice {
  std::optional<std::vector<std::string>> ids;
  std::optional<std::vector<std::string>> cells;
  std::optional<std::vector<int>> series;
  std::optional<std::vector<int>> parallel;
  std::optional<std::vector<double>> voltage_classes;  // V, nominal
};

struct ChainChoice {
  std::optional<std::vector<std::string>> sizes_or_ids;
  std::optional<std::vector<double>> pitches;  // m
};

// Slots left out mean everything in the catalogue.
struct Choice {
  std::optional<std::vector<std::string>> motors;
  std::optional<std::vector<std::string>> controllers;
  PackChoice pack;
  std::optional<std::vector<std::string>> chargers;
  ChainChoice chain;
  std::optional<std::vector<std::string>> front_sprockets;
  std::optional<std::vector<int>> front_teeth;  // ascending
  std::optional<std::vector<std::string>> rear_sprockets;
  std::optional<std::vector<int>> rear_teeth;  // ascending
  bool half_links = false;
};

// The units in which the person thinks, taken from what was written; for text, never for JSON.
struct DisplayUnits {
  std::string speed = "km/h";   // or "mph"
  std::string distance = "km";  // or "mi"
  std::string mass = "kg";      // or "lb"
};

// How an input is spread about its value. Symmetric about it, or between two ends.
enum class Shape { kNormal, kUniform, kTriangular };
struct Spread {
  std::string path;    // "bike.drag_area"; `motors.*.resistance` is that of every motor
  bool exact = false;  // written as `none`: no spread, whatever is usual
  Shape shape = Shape::kNormal;
  bool relative = false;       // `amount` is a share of the value
  double amount = 0;           // standard deviation (normal), else half the width; SI
  std::optional<double> from;  // instead of an amount; SI
  std::optional<double> to;
  std::string text;  // "normal 10 %"
};

struct Requirement {
  std::string title;
  std::string currency = "EUR";
  std::vector<std::string> owned;
  Bike bike;
  double rider_mass = 0;  // kg
  double load_mass = 0;   // kg
  Conditions conditions;
  std::string ride_name;  // "r40-urban", "steady 40 km/h", "ride.csv"
  model::Profile ride;
  std::vector<double> cruise;  // m/s
  std::vector<SpeedChange> accelerations;
  double pull_away_to = 0;  // m/s
  Demands must;
  Charging charging;
  Choice choose;
  std::vector<std::string> objectives;  // names of spec/metrics.hpp, each once
  bool confidence = false;              // is an objective of `search` too, behind the others
  std::vector<Spread> spreads;          // in written order, each path once
  DisplayUnits units;
  std::vector<Default> defaults;
};

}  // namespace sprocketry::spec
