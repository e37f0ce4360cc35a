#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "model/shaft_torque.hpp"
#include "rules/selection.hpp"
#include "spec/metrics.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::rules {

enum class Kind { kReject, kCaution };

// What a rule's numbers measure; the table in rule.cpp gives symbol and scale of the output unit.
enum class Unit {
  kNone,
  kVolt,
  kAmpere,
  kMillimetre,
  kPercent,
  kDegree,
  kSecond,
  kSpeed,
  kMetrePerSecond,
  kRpm,
  kCelsius,
  kNewton,
  kKilogram,
  kKilometre,
  kHour,
  kLitre,
  kMoney,
  kKilowatt,
  kMegapascal,
  kNewtonMetre,
  kWattPerKilogram
};

struct UnitInfo {
  std::string_view symbol;  // "" for plain numbers and money
  double factor = 1;        // output = SI x factor + offset
  double offset = 0;
};
const UnitInfo& unit_info(Unit unit);

// A check's outcome in SI. The value passes when it is at most (at least) the limit, or equal to
// it.
enum class Sense { kAtMost, kAtLeast, kEqual };
// What an unchecked finding lacks: a field that is not given, a speed that is never reached, or, in
// a clause of its own, a reason to be checked at all.
enum class Lack { kField, kSpeed, kReason };
struct Finding {
  double value = model::kNone;
  double limit = model::kNone;
  Sense sense = Sense::kAtMost;
  const char* missing = nullptr;  // what the check lacks, so that it stays unchecked
  Lack lack = Lack::kField;       // what kind of thing that is

  [[nodiscard]] bool unchecked() const { return missing != nullptr; }
  // How far inside, in SI; NaN when the value does not exist.
  [[nodiscard]] double margin() const;
  // False also for a value that does not exist.
  [[nodiscard]] bool holds() const;
};

// The torque of no motor, for rules that do not read it.
inline constexpr model::ShaftTorque kNoTorque{};

// Everything that a rule may read. Rules of the pairwise stages read no metrics.
struct Context {
  const spec::Requirement& requirement;
  const Selection& parts;
  const ChainRun& chain;
  const spec::Metrics& metrics;
  const model::ShaftTorque& torque = kNoTorque;  // known from kStrength on
};

// When a rule can be decided: what it reads must be known. The order is the published order. Rules
// of kElectrical and kFit read a few slots; kStrength reads all but the charger and the torque at
// the motor's shaft; the later ones read metrics. A caution may read what it likes: it is only
// asked of a design that is evaluated whole.
enum class Stage { kElectrical, kFit, kStrength, kSpeed, kHeat, kDemand };

// The slots that a pairwise rule reads, so that a search decides it once for all the others.
namespace slot {
inline constexpr unsigned kMotor = 1, kController = 2, kPack = 4, kCharger = 8, kChain = 16,
                          kFront = 32, kRear = 64;
inline constexpr unsigned kDrive = kChain | kFront | kRear;
}  // namespace slot

// A named check. A rule that asks several things of a list (each cruise speed) has one item for
// each.
struct Rule {
  std::string_view name;
  Stage stage = Stage::kElectrical;
  Kind kind = Kind::kReject;
  Unit unit = Unit::kNone;
  unsigned reads = 0;            // slot bits (kElectrical, kFit) or spec::figures (later stages)
  std::string_view source;       // of the limit
  std::string_view explanation;  // one sentence for people
  std::size_t (*items)(const spec::Requirement&) = nullptr;
  Finding (*check)(const Context&, std::size_t item) = nullptr;
  // What the item is about ("40 km/h"); null for rules of one item.
  std::string (*about)(const spec::Requirement&, std::size_t item) = nullptr;
  // True when metrics that are better in all they read (faster, farther, cooler, lighter, cheaper)
  // never break the rule if worse ones hold it: a search may then decide it on a best case.
  bool best_case = false;
  // Why a check that was made does not hold, in words; null where the numbers say it all. Only
  // asked of a design that is shown.
  std::string (*reason)(const Context&, std::size_t item) = nullptr;
};

// All rules in published order, which decides under which a rejected combination is counted.
std::span<const Rule> rule_table();

// A rule with the number of its place in the table and one of its items.
struct Check {
  const Rule* rule = nullptr;
  std::size_t index = 0;
  std::size_t item = 0;
};

// The checks that a requirement asks for, in published order.
std::vector<Check> active_checks(const spec::Requirement& requirement);

// A check's outcome for people and files, in output units.
struct Row {
  std::string_view rule;
  std::string about;
  double value = model::kNone;
  double limit = model::kNone;
  double margin = model::kNone;
  std::string_view unit;
  Unit unit_kind = Unit::kNone;
  Kind kind = Kind::kReject;
  bool holds = true;
  bool unchecked = false;
  std::string missing;
  Lack lack = Lack::kField;
  std::string reason;  // "" unless the rule gives one and it does not hold
  std::string_view source;
};
Row make_row(const Check& check, const Context& context);

// "40 km/h" in the units of the requirement.
std::string speed_text(const spec::Requirement& requirement, double speed);

// What tells one of must.climbs from the others: its speed ("15 km/h"), and where others have the
// same, its grade and how long it takes ("15 km/h, 12 %, 120 s").
std::string climb_text(const spec::Requirement& requirement, std::size_t item);
}  // namespace sprocketry::rules
