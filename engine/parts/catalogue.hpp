#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document/diagnostics.hpp"
#include "model/battery.hpp"
#include "model/cell_state.hpp"
#include "model/chain.hpp"
#include "model/controller.hpp"
#include "model/motor.hpp"
#include "model/packing.hpp"

namespace sprocketry::parts {

// Money as a whole number of 1/10000 of the currency, so that sums are exact.
using Money = std::int64_t;
inline constexpr Money kMoneyUnit = 10000;

// A value that was not given and what was taken instead, for the reader of a result.
struct Default {
  std::string key;          // "bike.wheelbase", "motors.hollin-48.rotor_inertia"
  std::string value;        // "1.35 m"
  std::string_view source;  // "common practice, no source"; a literal or from a table
};

// The shaft end of a motor, in m. `key` is the key's width, 0 for a shaft without one.
struct Shaft {
  double diameter = 0;
  std::optional<double> key;
  std::optional<double> length;
};

struct MotorPart {
  std::string id;
  Money price = 0;
  double mass = 0;  // kg
  model::Motor model;
  std::optional<Shaft> shaft;
  std::optional<model::Cylinder> size;
  bool thermal_estimated = false;  // from the continuous rating, not stated
  bool field_weakening = false;    // spins past its voltage limit: top speed is a lower bound
  document::Mark mark;
};

struct ControllerPart {
  std::string id;
  Money price = 0;
  double mass = 0;
  model::Controller model;
  document::Mark mark;
};

// What every pack of a cell needs once: case, links, management board.
struct PackKit {
  Money price = 0;
  double mass = 0;                      // kg
  double resistance = 0;                // ohm
  std::optional<double> board_current;  // A
};

struct CellPart {
  std::string id;
  Money price = 0;
  double mass = 0;
  std::string chemistry;
  model::Cell model;
  std::optional<model::Body> size;
  PackKit kit;
  document::Mark mark;
};

struct PackPart {
  std::string id;
  std::string cell_id;
  std::string chemistry;
  Money price = 0;
  double mass = 0;
  model::Pack model;   // on the day: as warm and as old as the requirement says
  model::Pack as_new;  // new, at the cells' rated temperature: the strongest it will be
  std::optional<model::Body> cell_size;
};

// A pack that the catalogue names.
struct NamedPack {
  std::string id;
  std::string cell_id;
  int series = 0;
  int parallel = 0;
  document::Mark mark;
};

struct ChargerPart {
  std::string id;
  Money price = 0;
  double mass = 0;
  std::vector<std::string> chemistries;
  double min_full_voltage = 0;  // V
  double max_full_voltage = 0;  // V
  double current = 0;           // A
  double efficiency = 1;        // 0..1, power at the pack over power at the wall
  bool carried = false;         // rides along, so its mass counts
  document::Mark mark;
};

struct ChainPart {
  std::string id;
  std::string size;
  model::Chain model;
  double roller_diameter = 0;       // m
  double inner_width = 0;           // m
  std::optional<double> max_speed;  // m/s
  int box_links = 0;                // links in a box that is sold whole; 0: sold by the link
  Money price = 0;                  // of a box, or of a link
  document::Mark mark;
};

// An amount that grows with the tooth count: base + per_tooth x teeth.
template <typename T>
struct PerTooth {
  T base{};
  T per_tooth{};

  [[nodiscard]] T at(int teeth) const { return base + per_tooth * static_cast<T>(teeth); }
};

// Set screws through a hub onto the shaft.
struct SetScrews {
  double size = 0;  // m, diameter of the thread
  int count = 1;
};

// Yield of a key of which nothing is stated, in Pa: AISI 1018 cold drawn (Shigley, Table A-20, from
// memory), the weakest of the usual key steels.
inline constexpr double kKeyStrength = 370e6;

struct FrontSprocketFamily {
  std::string id;
  std::string size;
  std::vector<int> teeth;              // ascending
  std::optional<double> bore;          // m
  std::optional<double> key;           // m, width; 0: no key
  std::optional<double> hub_diameter;  // m
  std::optional<double> hub_length;    // m
  std::optional<SetScrews> set_screws;
  double key_strength = kKeyStrength;  // Pa, yield
  PerTooth<Money> price;
  PerTooth<double> mass;  // kg
  Money fabrication = 0;
  document::Mark mark;
};

struct RearSprocketFamily {
  std::string id;
  std::string size;
  std::vector<int> teeth;             // ascending
  std::optional<double> bolt_circle;  // m, diameter
  std::optional<int> bolts;
  PerTooth<Money> price;
  PerTooth<double> mass;
  Money fabrication = 0;
  document::Mark mark;
};

// A tyre's measured rolling circumference in m.
struct Tyre {
  std::string size;
  double rollout = 0;
  document::Mark mark;
};

// An inclusive interval; a missing end is open.
struct Interval {
  std::optional<double> min;
  std::optional<double> max;

  [[nodiscard]] bool contains(double value) const {
    return (!min || value >= *min) && (!max || value <= *max);
  }
};

// Bought because of what was chosen: every stated condition must hold.
struct Extra {
  std::string id;
  Money price = 0;
  double mass = 0;
  Interval full_voltage;     // V of the pack
  Interval nominal_voltage;  // V of the pack
  Interval battery_current;  // A, what the controller is set to draw
  document::Mark mark;
};

// All parts of one or several files, each list in ascending order of id.
struct Catalogue {
  std::vector<MotorPart> motors;
  std::vector<ControllerPart> controllers;
  std::vector<CellPart> cells;
  std::vector<NamedPack> packs;
  std::vector<ChargerPart> chargers;
  std::vector<ChainPart> chains;
  std::vector<FrontSprocketFamily> front_sprockets;
  std::vector<RearSprocketFamily> rear_sprockets;
  std::vector<Tyre> tyres;
  std::vector<Extra> extras;
  std::vector<Default> defaults;

  // The cell of that id, or nullptr.
  [[nodiscard]] const CellPart* find_cell(std::string_view id) const;
};

// "slate-100x16s1p": the id of a pack generated from a cell.
std::string pack_id(std::string_view cell_id, int series, int parallel);

// What such an id says; nothing for an id of another form. The cell need not exist.
struct GeneratedPack {
  std::string cell_id;
  int series = 0;
  int parallel = 0;
};
std::optional<GeneratedPack> split_pack_id(std::string_view id);

// A pack of `cell` in series and parallel under `id`, its cells in that state: price and mass are
// the cells' plus the kit's.
PackPart make_pack_part(const CellPart& cell, std::string id, int series, int parallel,
                        const model::CellState& state);
// Another number of the same cells, which must be those of `pack`.
PackPart resized(const CellPart& cell, PackPart pack, std::string id, int series, int parallel);

}  // namespace sprocketry::parts
