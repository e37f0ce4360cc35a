#include "search/check.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "document/digest.hpp"
#include "document/emit.hpp"
#include "document/node.hpp"
#include "search/pick.hpp"

namespace sprocketry::search {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostStandIns = 3;

using Gone = std::set<std::string, std::less<>>;

// The fields of a design's id.
std::vector<std::string> fields_of(const std::string& id) {
  std::vector<std::string> fields(1);
  for (const char c : id) {
    if (c == '/') {
      fields.emplace_back();
    } else {
      fields.back() += c;
    }
  }
  return fields;
}

// A design of a job, with the space that holds nothing else.
struct Computed {
  Setup setup;
  Space space;
  Design design;
};

// `choose` shrunk to the design itself, whatever it once offered.
tl::expected<Computed, std::string> compute(spec::Job& job, const std::string& id) {
  const auto fields = fields_of(id);
  const bool half_links = job.requirement.choose.half_links;
  job.requirement.choose = {};
  job.requirement.choose.half_links = half_links;
  if (fields.size() > 3) {
    job.requirement.choose.pack.ids = {fields[2]};
    if (fields[3] == rules::kNoCharger) job.catalogue.chargers.clear();
  }
  Computed computed;
  computed.setup = make_setup(job.requirement);
  auto picked = pick(job, computed.setup, {id}, "");
  if (!picked) return tl::unexpected(picked.error());
  computed.space = std::move(picked->space);
  computed.design = evaluate_design(computed.setup, computed.space, picked->combination);
  return computed;
}

// What a sprocket family lacks that the design was built with, put back.
template <typename Family>
std::optional<int> restore_teeth(std::vector<Family>& families, const std::string& field) {
  const std::size_t colon = field.rfind(':');
  if (colon == std::string::npos) return std::nullopt;
  const auto family = std::ranges::find(families, field.substr(0, colon), &Family::id);
  const int teeth = std::atoi(field.c_str() + colon + 1);
  if (family == families.end()) return std::nullopt;
  const auto place = std::ranges::lower_bound(family->teeth, teeth);
  if (place != family->teeth.end() && *place == teeth) return std::nullopt;
  family->teeth.insert(place, teeth);
  return teeth;
}

std::vector<FigureDrift> figure_drifts(const Lock& lock, const Design& by_model,
                                       const Design& now) {
  std::vector<FigureDrift> drifts;
  std::map<std::string, std::size_t> place;
  for (const Figure& figure : lock.figures) {
    place[figure.key] = drifts.size();
    drifts.push_back({figure.key, figure.value, {}, {}, 0, false});
  }
  const auto at = [&](const std::string& key) -> FigureDrift& {
    const auto [found, fresh] = place.try_emplace(key, drifts.size());
    if (fresh) drifts.push_back({key, {}, {}, {}, 0, false});
    return drifts[found->second];
  };
  for (const Figure& figure : figures_of(by_model)) at(figure.key).by_model = figure.value;
  for (const Figure& figure : figures_of(now)) at(figure.key).now = figure.value;
  for (FigureDrift& drift : drifts) {
    if (!drift.then || !drift.now) continue;
    drift.allowed = lock.tolerances.of(drift.key).allowed(*drift.then);
    const bool both = !std::isnan(*drift.then) && !std::isnan(*drift.now);
    const bool one = std::isnan(*drift.then) != std::isnan(*drift.now);
    drift.beyond = one || (both && std::abs(*drift.now - *drift.then) > drift.allowed);
  }
  return drifts;
}

// Rules of the same name and subject in their order are the same rule.
std::vector<RuleDrift> rule_drifts(const Lock& lock, const Design& now) {
  std::vector<RuleDrift> drifts;
  std::vector<bool> used(lock.rules.size(), false);
  for (LockedRule& rule : rules_of(now)) {
    RuleDrift drift;
    for (std::size_t i = 0; i < lock.rules.size() && !drift.then; ++i) {
      if (used[i] || lock.rules[i].rule != rule.rule || lock.rules[i].about != rule.about) continue;
      used[i] = true;
      drift.then = lock.rules[i];
    }
    drift.now = std::move(rule);
    drifts.push_back(std::move(drift));
  }
  for (std::size_t i = 0; i < lock.rules.size(); ++i) {
    if (!used[i]) drifts.push_back({lock.rules[i], {}});
  }
  return drifts;
}

// What the requirement's file asks today, with the lock's overrides, beside what is locked.
std::optional<std::vector<parts::FieldChange>> requirement_changes(const Lock& lock,
                                                                   const fs::path& file,
                                                                   const fs::path& lock_file) {
  document::Diagnostics unread;
  auto now = document::load_yaml(file, file.string(), {}, unread);
  if (!now) return std::nullopt;
  for (const std::string& assignment : lock.set) document::set_path(*now, assignment, unread);
  if (unread.has_errors()) return std::nullopt;
  const document::Node moved = moved_requirement(std::move(*now), file, lock_file);
  return parts::field_changes({lock.requirement, {}}, {moved, {}});
}

std::vector<FileDrift> file_drifts(const Lock& lock, const fs::path& lock_file) {
  const fs::path folder = lock_file.parent_path();
  std::vector<FileDrift> drifts;
  for (const LockedFile& file : lock.files) {
    const auto digest = document::sha256_of_file(folder / file.path);
    FileDrift drift{file,
                    !digest                  ? FileDrift::State::kMissing
                    : *digest != file.sha256 ? FileDrift::State::kChanged
                                             : FileDrift::State::kSame,
                    {}};
    if (file.role == "requirement" && drift.state == FileDrift::State::kChanged) {
      drift.changes = requirement_changes(lock, folder / file.path, lock_file);
    }
    drifts.push_back(std::move(drift));
  }
  return drifts;
}

Gone gone_names(const std::vector<PartDrift>& parts) {
  Gone gone;
  for (const PartDrift& part : parts) {
    if (part.state == PartDrift::State::kGone && part.missing.empty()) gone.insert(part.name);
  }
  return gone;
}

void find_stand_ins(const spec::Job& with_choose, const Computed& now, Check& check) {
  Gone gone = gone_names(check.parts);
  const auto& s = now.design.parts;
  for (const PartDrift& part : check.parts) {
    if (part.missing.empty()) continue;
    const int teeth = part.list == "front_sprockets" ? s.front_teeth : s.rear_teeth;
    gone.insert(part.name + ':' + std::to_string(teeth));
  }
  for (PartDrift& part : check.parts) {
    if (part.state != PartDrift::State::kGone || part.is_extra()) continue;
    part.stand_ins =
        stand_ins(with_choose, now.setup, now.space, now.design, part.list, gone, kMostStandIns);
  }
}

// Marks a sprocket whose family goes on without the tooth count.
void note_missing_teeth(std::vector<PartDrift>& parts, std::string_view list,
                        std::optional<int> teeth) {
  if (!teeth) return;
  for (PartDrift& part : parts) {
    if (part.list != list || part.state == PartDrift::State::kGone) continue;
    part.state = PartDrift::State::kGone;
    part.missing = std::to_string(*teeth) + " teeth";
  }
}

void compare_extras(const Lock& lock, const Design& now, Check& check) {
  std::set<std::string> then;
  for (const parts::WrittenPart& part : lock.parts) {
    if (part.list == "extras") then.insert(part.name);
  }
  for (const parts::Extra* extra : now.extras) {
    if (then.erase(extra->id) == 0) check.extras_added.push_back(extra->id);
  }
  std::erase_if(then, [&](const std::string& name) {
    return std::ranges::any_of(check.parts, [&](const PartDrift& part) {
      return part.name == name && part.state == PartDrift::State::kGone;
    });
  });
  check.extras_dropped.assign(then.begin(), then.end());
}

// Nobody chooses extras: the parts files say which a bike needs, so one that they no longer have is
// left out, or one that was renamed would count twice. What is owned is there, whatever the files.
std::vector<parts::WrittenPart> parts_that_stay(const std::vector<parts::WrittenPart>& then,
                                                const std::vector<std::string>& owned) {
  std::vector<parts::WrittenPart> stay;
  std::ranges::copy_if(then, std::back_inserter(stay), [&](const parts::WrittenPart& part) {
    return part.list != "extras" || std::ranges::find(owned, part.name) != owned.end();
  });
  return stay;
}

// Today's entries, and those of the lock that are gone, or whose teeth are: what a renewed lock
// keeps.
std::vector<parts::WrittenPart> renewed_parts(const Lock& lock, const Check& check,
                                              const parts::WrittenParts& today) {
  const auto drift_of = [&](const parts::WrittenPart& part) {
    return std::ranges::find_if(check.parts, [&](const PartDrift& drift) {
      return drift.list == part.list && drift.name == part.name;
    });
  };
  const auto is_gone = [&](const parts::WrittenPart& part) {
    const auto drift = drift_of(part);
    return drift != check.parts.end() && drift->state == PartDrift::State::kGone;
  };
  std::vector<parts::WrittenPart> all;
  std::ranges::remove_copy_if(today.entries, std::back_inserter(all), is_gone);
  std::ranges::copy_if(lock.parts, std::back_inserter(all), is_gone);
  return entries_of(check.now, lock.requirement, all);
}

// The requirement and the ride stay as they were locked, so a change of their files must go on
// being told: only what the lock has taken over gets a new digest.
bool is_taken_over(const FileDrift& drift) {
  return drift.file.role == "parts" || (drift.changes && drift.changes->empty());
}

Lock renewed_lock(const Lock& lock, const Check& check, const fs::path& folder,
                  const std::string& model, const parts::WrittenParts& today) {
  Lock renewed = lock;
  renewed.model = model;
  for (std::size_t i = 0; i < check.files.size(); ++i) {
    if (!is_taken_over(check.files[i])) continue;
    LockedFile& file = renewed.files[i];
    file.sha256 = document::sha256_of_file(folder / file.path).value_or("unreadable");
  }
  renewed.parts = renewed_parts(lock, check, today);
  renewed.figures = figures_of(check.now);
  renewed.rules = rules_of(check.now);
  return renewed;
}

}  // namespace

bool Check::holds() const {
  return std::ranges::none_of(rules, &RuleDrift::broken) &&
         std::ranges::none_of(figures, &FigureDrift::beyond) &&
         std::ranges::none_of(parts, &PartDrift::unobtainable);
}

tl::expected<Check, Unreadable> check_lock(const Lock& lock, const fs::path& lock_file,
                                           const std::string& model,
                                           document::Diagnostics& diagnostics,
                                           const std::vector<std::string>& overrides) {
  std::string trace_text;
  for (const std::string& line : lock.trace) trace_text += line + '\n';
  const document::Source* trace =
      trace_text.empty() ? nullptr
                         : &diagnostics.add_source(lock_file.string() + ": trace", trace_text);
  const fs::path folder = lock_file.parent_path();
  const spec::KeptJob kept{lock.requirement, lock.parts, trace, folder, folder};
  auto then_job = spec::load_kept_job(kept, spec::PartsFrom::kKept, diagnostics);
  document::Node requirement = lock.requirement;
  for (const std::string& assignment : overrides) {
    document::set_path(requirement, assignment, diagnostics);
  }
  if (!then_job) return tl::unexpected(Unreadable::kLock);
  const auto stay = parts_that_stay(lock.parts, then_job->requirement.owned);
  const spec::KeptJob asked{requirement, stay, trace, folder, folder};
  parts::WrittenParts today;
  auto loaded = spec::load_kept_job(asked, spec::PartsFrom::kFiles, diagnostics, &today);
  if (!loaded) return tl::unexpected(Unreadable::kToday);

  Check check;
  check.job = std::make_unique<spec::Job>(std::move(*loaded));
  spec::Job& job = *check.job;
  check.files = file_drifts(lock, lock_file);
  check.parts = part_drifts(lock.parts, then_job->catalogue.defaults, today, job.catalogue.defaults,
                            job.requirement.owned);
  const auto fields = fields_of(lock.design);
  if (fields.size() == 7) {
    note_missing_teeth(check.parts, "front_sprockets",
                       restore_teeth(job.catalogue.front_sprockets, fields[5]));
    note_missing_teeth(check.parts, "rear_sprockets",
                       restore_teeth(job.catalogue.rear_sprockets, fields[6]));
  }
  const spec::Job with_choose = job;
  const auto then = compute(*then_job, lock.design);
  auto now = compute(job, lock.design);
  if (!then || !now) {
    diagnostics.error(
        lock.requirement.mark,
        "the design " + lock.design + " cannot be computed: " + (then ? now.error() : then.error()),
        "the lock holds another requirement or other parts than those of its design");
    return tl::unexpected(Unreadable::kLock);
  }
  check.figures = figure_drifts(lock, then->design, now->design);
  check.rules = rule_drifts(lock, now->design);
  compare_extras(lock, now->design, check);
  find_stand_ins(with_choose, *now, check);
  check.now = std::move(now->design);
  check.renewed = renewed_lock(lock, check, folder, model, today);
  check.space = std::move(now->space);
  return check;
}

}  // namespace sprocketry::search
