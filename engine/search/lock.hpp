#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "search/design.hpp"
#include "spec/load.hpp"

namespace sprocketry::search {

// One figure of a design under its name in files ("range_km", "cruise_1_battery_current_a"), in the
// output unit that the name ends with; NaN when it does not exist.
struct Figure {
  std::string key;
  double value = model::kNone;
};
// What 100 km cost from the wall, in the currency.
inline constexpr std::string_view kWallCost = "wall_cost_per_100_km";
// Every figure of a design: the table of metrics, then the listed ones, numbered from 1, what the
// controller is set to, what charging takes (with a charger), the chain's links and the distance
// from shaft to axle.
std::vector<Figure> figures_of(const Design& design);

// How a check came out.
enum class Outcome { kHolds, kCaution, kBroken, kUnchecked };
std::string_view name_of(Outcome outcome);
std::optional<Outcome> outcome_of(std::string_view name);

// A check's outcome, in output units.
struct LockedRule {
  std::string rule;
  std::string about;
  std::string unit;  // "" for plain numbers and money
  double value = model::kNone;
  double limit = model::kNone;
  double margin = model::kNone;
  Outcome outcome = Outcome::kHolds;
};
std::vector<LockedRule> rules_of(const Design& design);

// A file that the lock was made from; `path` is relative to the lock's folder.
struct LockedFile {
  std::string role;  // "requirement", "parts", "ride"
  std::string path;
  std::string sha256;
};

// How far a figure may move before it counts: a share of the locked value, or an amount in the
// figure's own unit.
struct Tolerance {
  double share = 0;
  double amount = 0;
  // How far `value` may move.
  [[nodiscard]] double allowed(double value) const;
};
inline constexpr double kUsualTolerance = 0.02;  // share; our choice: what a rider would not notice

struct Tolerances {
  Tolerance usual{kUsualTolerance, 0};
  std::vector<std::pair<std::string, Tolerance>> single;  // by the figure's key

  [[nodiscard]] const Tolerance& of(std::string_view key) const;
};

// "2 %" or "0.5".
std::string text_of(const Tolerance& tolerance);
// Reads such a text; nothing when it is neither.
std::optional<Tolerance> parse_tolerance(const std::string& text);

// A chosen design with everything that is needed to compute it again.
struct Lock {
  std::string model;             // the version of the program that computed it
  std::string design;            // its id
  std::vector<std::string> set;  // the overrides; they are in `requirement` already
  std::vector<LockedFile> files;
  document::Node requirement;             // as resolved; its parts files relative to the lock
  std::vector<parts::WrittenPart> parts;  // the entries of the chosen parts, and the tyre
  std::vector<std::string> trace;         // the lines of the ride's file, if it was one
  std::vector<Figure> figures;
  std::vector<LockedRule> rules;
  Tolerances tolerances;
};

// A requirement with the paths of its files, which are relative to its own file, relative to the
// lock.
document::Node moved_requirement(document::Node requirement,
                                 const std::filesystem::path& requirement_file,
                                 const std::filesystem::path& lock_file);

// What a lock is made from, besides the design.
struct LockInput {
  const spec::WrittenJob& written;
  std::filesystem::path requirement_file;
  std::filesystem::path lock_file;  // where it will be
  std::vector<std::string> set;
  std::string model;
  Tolerances tolerances;
};
Lock make_lock(const Design& design, const LockInput& input);

// The entries that a design is made of, as they were written: its parts, the cell of its pack, its
// extras, and the tyre's if the requirement names a size. Listed in the order of the files.
std::vector<parts::WrittenPart> entries_of(const Design& design, const document::Node& requirement,
                                           const std::vector<parts::WrittenPart>& entries);

}  // namespace sprocketry::search
