#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "search/lock.hpp"
#include "search/part_drift.hpp"

namespace sprocketry::search {

// A figure as it was locked and as it is. `by_model` is what this program makes of the locked
// input, so that what the program changed and what the parts changed can be told apart.
struct FigureDrift {
  std::string key;
  std::optional<double> then;  // nothing: the lock does not have it
  std::optional<double> by_model;
  std::optional<double> now;  // nothing: this program does not compute it
  double allowed = 0;         // how far it may move
  bool beyond = false;        // it moved further, came into being or ceased to exist
};

// A rule as it was locked and as it is; nothing where one of the two does not know it.
struct RuleDrift {
  std::optional<LockedRule> then;
  std::optional<LockedRule> now;

  [[nodiscard]] const LockedRule& either() const { return now ? *now : *then; }
  [[nodiscard]] bool broken() const { return now && now->outcome == Outcome::kBroken; }
};

struct FileDrift {
  LockedFile file;
  enum class State { kSame, kChanged, kMissing } state = State::kSame;
  // Of the requirement, when it has changed: the keys that say something else than in the lock, by
  // what they measure; nothing when it can no longer be read.
  std::optional<std::vector<parts::FieldChange>> changes;
};

// A lock computed again with today's parts.
struct Check {
  std::unique_ptr<spec::Job> job;  // the requirement with today's parts
  Space space;                     // the design's parts alone
  Design now;
  std::vector<FigureDrift> figures;
  std::vector<RuleDrift> rules;
  std::vector<PartDrift> parts;
  std::vector<std::string> extras_added;  // bought now, not then
  std::vector<std::string> extras_dropped;
  std::vector<FileDrift> files;
  Lock renewed;  // what --accept writes

  [[nodiscard]] bool holds() const;
};

// Why there is no check.
enum class Unreadable {
  kLock,   // what it holds is not understood, or cannot be computed
  kToday,  // the lock is sound; today's files or the overrides are not
};

// Computes a lock again with today's parts files, which are looked up from the lock's folder. Parts
// that are gone are taken from the lock, so that everything else can be compared. `overrides`
// ("must.range.min=60 km") change the requirement of today, not the locked one. What could not be
// read when there is no check; the findings say why.
tl::expected<Check, Unreadable> check_lock(const Lock& lock, const std::filesystem::path& lock_file,
                                           const std::string& model,
                                           document::Diagnostics& diagnostics,
                                           const std::vector<std::string>& overrides = {});

}  // namespace sprocketry::search
