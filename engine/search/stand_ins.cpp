#include "search/stand_ins.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace sprocketry::search {
namespace {

using Gone = std::set<std::string, std::less<>>;

// Packs of every cell that come nearest to the pack in voltage and capacity, besides those that the
// requirement offers.
void add_equivalent_packs(const spec::Job& job, const parts::PackPart& pack,
                          std::vector<PackOption>& packs) {
  const auto nearest_count = [](double total, double one) {
    return std::max(1, static_cast<int>(std::lround(total / one)));
  };
  const auto& owned = job.requirement.owned;
  for (const parts::CellPart& cell : job.catalogue.cells) {
    const int series = nearest_count(pack.model.nominal_voltage, cell.model.nominal_voltage);
    const int parallel = nearest_count(pack.model.capacity, cell.model.capacity);
    const std::string id = parts::pack_id(cell.id, series, parallel);
    if (std::ranges::any_of(packs, [&](const PackOption& o) { return o.part.id == id; })) continue;
    parts::PackPart part =
        parts::make_pack_part(cell, id, series, parallel, job.requirement.conditions.pack);
    const bool free = std::ranges::any_of(
        owned, [&](const std::string& name) { return name == cell.id || name == id; });
    const Money price = free ? 0 : part.price;
    packs.push_back({std::move(part), price});
  }
}

// Of each family the options nearest in teeth, of fewer and of more: which of them serves is for
// the rules to say.
template <typename Option>
std::vector<Option> nearest_teeth(const std::vector<Option>& options, int teeth, const Gone& gone) {
  std::vector<Option> nearest;
  const auto distance = [&](const Option& option) { return std::abs(option.teeth - teeth); };
  for (const Option& option : options) {
    if (gone.contains(option.family->id)) continue;
    const std::string name = option.family->id + ':' + std::to_string(option.teeth);
    if (gone.contains(name)) continue;
    const auto same = std::ranges::find_if(nearest, [&](const Option& other) {
      return other.family == option.family && (other.teeth < teeth) == (option.teeth < teeth);
    });
    if (same == nearest.end()) {
      nearest.push_back(option);
    } else if (distance(option) < distance(*same)) {
      *same = option;
    }
  }
  return nearest;
}

// Spaces with one part exchanged, and the part's name.
struct Exchange {
  std::string part;
  Space space;
};

template <typename Option, typename Name>
void exchange(std::vector<Exchange>& all, const Space& space, std::vector<Option> Space::*slot,
              const std::vector<Option>& options, const Gone& gone, const Name& name) {
  for (const Option& option : options) {
    const std::string part = name(option);
    if (gone.contains(part)) continue;
    Exchange one{part, space};
    one.space.*slot = {option};
    all.push_back(std::move(one));
  }
}

std::vector<Exchange> exchanges(const spec::Job& job, const Space& space, const Design& design,
                                std::string_view list, const Gone& gone) {
  std::vector<Exchange> all;
  Space whole = whole_catalogue(job);
  const auto id = [](const auto& option) { return option.part->id; };
  const auto with_teeth = [](const auto& option) {
    return option.family->id + ':' + std::to_string(option.teeth);
  };
  if (list == "motors") exchange(all, space, &Space::motors, whole.motors, gone, id);
  if (list == "controllers") exchange(all, space, &Space::controllers, whole.controllers, gone, id);
  if (list == "chargers" && design.parts.charger != nullptr) {
    exchange(all, space, &Space::chargers, whole.chargers, gone, id);
  }
  if (list == "chains") exchange(all, space, &Space::chains, whole.chains, gone, id);
  if (list == "cells" || list == "packs") {
    add_equivalent_packs(job, *design.parts.pack, whole.packs);
    std::erase_if(whole.packs, [&](const PackOption& pack) {
      return gone.contains(pack.part.cell_id) || pack.part.id == design.parts.pack->id;
    });
    exchange(all, space, &Space::packs, whole.packs, gone,
             [](const PackOption& pack) { return pack.part.id; });
  }
  if (list == "front_sprockets") {
    exchange(all, space, &Space::fronts,
             nearest_teeth(whole.fronts, design.parts.front_teeth, gone), gone, with_teeth);
  }
  if (list == "rear_sprockets") {
    exchange(all, space, &Space::rears, nearest_teeth(whole.rears, design.parts.rear_teeth, gone),
             gone, with_teeth);
  }
  return all;
}

bool breaks(const rules::Row& row) {
  return row.kind == rules::Kind::kReject && !row.unchecked && !row.holds;
}

// Rules that `other` breaks and `design` does not: what another part breaks already is not the
// stand-in's doing.
std::vector<std::string> newly_broken(const Design& design, const Design& other) {
  std::vector<std::string> rules;
  for (const rules::Row& row : other.rows) {
    if (!breaks(row)) continue;
    const bool before = std::ranges::any_of(design.rows, [&](const rules::Row& old) {
      return breaks(old) && old.rule == row.rule && old.about == row.about;
    });
    if (!before && std::ranges::find(rules, row.rule) == rules.end()) rules.emplace_back(row.rule);
  }
  return rules;
}

}  // namespace

double movement(const spec::Metrics& from, const spec::Metrics& to) {
  double sum = 0;
  int count = 0;
  for (const spec::MetricInfo& info : spec::metric_table()) {
    const double a = info.value(from);
    const double b = info.value(to);
    if (std::isnan(a) && std::isnan(b)) continue;
    ++count;
    if (a == b) continue;
    const double share = std::abs(b - a) / std::abs(a);
    sum += std::isnan(share) ? 1.0 : std::min(share, 1.0);
  }
  return count == 0 ? 0.0 : sum / count;
}

std::vector<StandIn> stand_ins(const spec::Job& job, const Setup& setup, const Space& space,
                               const Design& design, std::string_view list, const Gone& gone,
                               std::size_t most) {
  std::vector<StandIn> found;
  for (const Exchange& one : exchanges(job, space, design, list, gone)) {
    const Design other = evaluate_design(setup, one.space, {});
    StandIn candidate;
    candidate.part = one.part;
    candidate.design = rules::design_id(other.parts);
    candidate.movement = movement(design.metrics, other.metrics);
    candidate.price_change = other.metrics.price - design.metrics.price;
    for (const std::string_view rule : other.rejected_by()) {
      candidate.rejected_by.emplace_back(rule);
    }
    candidate.breaks = newly_broken(design, other);
    found.push_back(std::move(candidate));
  }
  std::ranges::sort(found, [](const StandIn& a, const StandIn& b) {
    if (a.rejected_by.empty() != b.rejected_by.empty()) return a.rejected_by.empty();
    if (a.breaks.size() != b.breaks.size()) return a.breaks.size() < b.breaks.size();
    if (a.movement != b.movement) return a.movement < b.movement;
    return a.part < b.part;
  });
  found.resize(std::min(found.size(), most));
  return found;
}

}  // namespace sprocketry::search
