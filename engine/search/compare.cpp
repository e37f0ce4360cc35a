#include "search/compare.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "spec/metric_lists.hpp"

namespace sprocketry::search {
namespace {

constexpr double kNothing = std::numeric_limits<double>::infinity();

// Where a metric stands among the objectives of a side.
std::optional<std::size_t> place_of(const Side& side, const spec::MetricInfo* info) {
  const auto& list = side.setup.objectives;
  const auto found = std::ranges::find(list, info);
  if (found == list.end()) return std::nullopt;
  return static_cast<std::size_t>(found - list.begin());
}

using Values = std::vector<std::array<double, kMostObjectives>>;

// The common aims of every member, all to be made small.
Values common_values(const Front& front, const std::vector<std::size_t>& places) {
  Values values;
  for (const auto& objectives : front.objectives) {
    auto& member = values.emplace_back();
    for (std::size_t k = 0; k < places.size(); ++k) member[k] = objectives[places[k]];
  }
  return values;
}

Standing standing(const Values& own, const Values& other, std::size_t count) {
  Standing result;
  for (const auto& one : own) {
    bool beaten = false;
    bool matched = false;
    for (const auto& rival : other) {
      bool worse = false;
      bool better = false;
      for (std::size_t k = 0; k < count; ++k) {
        worse = worse || rival[k] > one[k];
        better = better || rival[k] < one[k];
      }
      if (worse) continue;
      beaten = beaten || better;
      matched = matched || !better;
    }
    if (beaten) {
      ++result.beaten;
    } else if (matched) {
      ++result.matched;
    }
  }
  return result;
}

// A design by its price and the aims besides price, all to be made small.
struct Offer {
  double price = 0;
  std::array<double, kMostObjectives> aims{};
};

// Nothing when the prices of the side are not known.
std::optional<std::vector<Offer>> offers(const Side& side,
                                         const std::vector<const spec::MetricInfo*>& aims) {
  std::vector<Offer> list;
  if (side.is_pick) {
    if (!side.rejected_by.empty()) return list;
    const Design design = side.design(0);
    Offer& offer = list.emplace_back();
    offer.price = spec::find_metric("price")->value(design.metrics);
    for (std::size_t k = 0; k < aims.size(); ++k) {
      offer.aims[k] = side.front.objectives[0][*place_of(side, aims[k])];
    }
    return list;
  }
  const auto price = place_of(side, spec::find_metric("price"));
  if (!price && !side.by_price) return std::nullopt;
  const Front& front = price ? side.front : *side.by_price;
  const std::size_t at = price ? *price : side.setup.objectives.size();
  for (const auto& objectives : front.objectives) {
    Offer& offer = list.emplace_back();
    offer.price = objectives[at];
    for (std::size_t k = 0; k < aims.size(); ++k) {
      offer.aims[k] = objectives[*place_of(side, aims[k])];
    }
  }
  return list;
}

Ahead lead(double a, double b) {
  if (a == b) return Ahead::kNeither;
  return a < b ? Ahead::kA : Ahead::kB;
}

Ahead overall(const BudgetStep& step) {
  if (step.a_has != step.b_has) return step.a_has ? Ahead::kA : Ahead::kB;
  const bool a = std::ranges::find(step.leads, Ahead::kA) != step.leads.end();
  const bool b = std::ranges::find(step.leads, Ahead::kB) != step.leads.end();
  if (a && b) return Ahead::kBoth;
  return a ? Ahead::kA : b ? Ahead::kB : Ahead::kNeither;
}

double output(const spec::MetricInfo& info, double value) {
  if (value == kNothing) return model::kNone;
  return info.better == spec::Better::kLower ? value : 0.0 - value;
}

std::vector<BudgetStep> budget_steps(const std::vector<Offer>& a, const std::vector<Offer>& b,
                                     const std::vector<const spec::MetricInfo*>& aims) {
  // At each price, what may be had from then on.
  std::map<double, std::pair<std::vector<const Offer*>, std::vector<const Offer*>>> prices;
  for (const Offer& offer : a) prices[offer.price].first.push_back(&offer);
  for (const Offer& offer : b) prices[offer.price].second.push_back(&offer);
  std::array<double, kMostObjectives> best_a{};
  std::array<double, kMostObjectives> best_b{};
  best_a.fill(kNothing);
  best_b.fill(kNothing);
  std::vector<BudgetStep> steps;
  BudgetStep now;
  for (const auto& [price, offered] : prices) {
    const auto take = [&](const std::vector<const Offer*>& list, auto& best) {
      for (const Offer* offer : list) {
        for (std::size_t k = 0; k < aims.size(); ++k) best[k] = std::min(best[k], offer->aims[k]);
      }
    };
    take(offered.first, best_a);
    take(offered.second, best_b);
    BudgetStep next = now;
    next.budget = price;
    next.a_has = now.a_has || !offered.first.empty();
    next.b_has = now.b_has || !offered.second.empty();
    next.a.clear();
    next.b.clear();
    next.leads.clear();
    for (std::size_t k = 0; k < aims.size(); ++k) {
      next.a.push_back(output(*aims[k], best_a[k]));
      next.b.push_back(output(*aims[k], best_b[k]));
      next.leads.push_back(lead(best_a[k], best_b[k]));
    }
    next.ahead = overall(next);
    const bool same = !steps.empty() && next.leads == now.leads && next.a_has == now.a_has &&
                      next.b_has == now.b_has;
    if (!same) steps.push_back(next);
    now = std::move(next);
  }
  return steps;
}

bool no_design_left(const Standing& standing, std::size_t size) {
  return size > 0 && standing.beaten > 0 && standing.beaten + standing.matched == size;
}

// An item of a list: how its keys begin, and what it was asked for.
struct Item {
  std::string list;
  std::string stem;
  std::vector<double> question;
};

std::vector<Item> items_of(const Design& design) {
  std::vector<Item> items;
  spec::each_list(design.metrics, [&](const std::string& name, const auto& list, const auto&) {
    for (std::size_t i = 0; i < list.size(); ++i) {
      items.push_back({name, name + '_' + std::to_string(i + 1) + '_', spec::asked_of(list[i])});
    }
  });
  return items;
}

// The key under which the other design answers the same question; "" when it does not.
std::string counterpart(const std::string& key, const std::vector<Item>& own,
                        const std::vector<Item>& other) {
  const auto item =
      std::ranges::find_if(own, [&](const Item& one) { return key.starts_with(one.stem); });
  if (item == own.end()) return key;
  const auto same = std::ranges::find_if(other, [&](const Item& one) {
    return one.list == item->list && one.question == item->question;
  });
  return same == other.end() ? "" : same->stem + key.substr(item->stem.size());
}

bool is_same(const model::Profile& a, const model::Profile& b) {
  return std::ranges::equal(a, b, [](const model::ProfileSample& x, const model::ProfileSample& y) {
    return x.time == y.time && x.speed == y.speed && x.grade == y.grade;
  });
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : "; ") + word;
  return text.empty() ? "none" : text;
}

std::string cruise_text(const spec::Requirement& r) {
  std::vector<std::string> speeds;
  for (const double speed : r.cruise) speeds.push_back(rules::speed_text(r, speed));
  return listed(speeds);
}

std::string climbs_text(const spec::Requirement& r) {
  std::vector<std::string> climbs;
  for (const spec::Climb& climb : r.must.climbs) {
    climbs.push_back(parts::number_text(climb.grade * 100) + " % at " +
                     rules::speed_text(r, climb.speed) + " for " +
                     parts::number_text(climb.duration) + " s");
  }
  return listed(climbs);
}

bool is_same_climb(const spec::Climb& a, const spec::Climb& b) {
  return a.grade == b.grade && a.speed == b.speed && a.duration == b.duration;
}

bool has_aim(const spec::Requirement& r, std::string_view begin) {
  return std::ranges::any_of(r.objectives,
                             [&](const std::string& aim) { return aim.starts_with(begin); });
}

// Cruises and climbs are figures one by one, matched by what they were asked for; only aims take
// the hardest of all of them.
std::vector<AskedDifferently> asked_differently(const spec::Requirement& a,
                                                const spec::Requirement& b) {
  std::vector<AskedDifferently> list;
  if (a.pull_away_to != b.pull_away_to) {
    list.push_back(
        {"pull_away", rules::speed_text(a, a.pull_away_to), rules::speed_text(b, b.pull_away_to)});
  }
  if (!is_same(a.ride, b.ride)) list.push_back({"ride", a.ride_name, b.ride_name});
  if (has_aim(a, "cruise_") && has_aim(b, "cruise_") && a.cruise != b.cruise) {
    list.push_back({"cruise", cruise_text(a), cruise_text(b)});
  }
  if (has_aim(a, "climb_") && has_aim(b, "climb_") &&
      !std::ranges::equal(a.must.climbs, b.must.climbs, is_same_climb)) {
    list.push_back({"climbs", climbs_text(a), climbs_text(b)});
  }
  return list;
}

// Whether both sides ask the same of a metric.
bool is_comparable(const Comparison& c, const spec::MetricInfo& info) {
  constexpr unsigned kOfTheRide = spec::figures::kRide | spec::figures::kRange;
  if (info.reads == spec::figures::kPullAway) return !c.asks_differently("pull_away");
  if (info.name == "cruise_current") return !c.asks_differently("cruise");
  if (info.name.starts_with("climb_") && c.asks_differently("climbs")) return false;
  // What a climb has to spare does not depend on the ride; its winding starts as warm as the ride
  // left it.
  if (info.name == "climb_margin") return true;
  return (info.reads & kOfTheRide) == 0 || !c.asks_differently("ride");
}

bool is_comparable(const Comparison& c, const std::string& key) {
  if (key.starts_with("climbs_") && key.ends_with("_winding_c")) {
    return !c.asks_differently("ride");
  }
  const auto table = spec::metric_table();
  const auto info = std::ranges::find(table, key, &spec::MetricInfo::json_key);
  return info == table.end() || is_comparable(c, *info);
}

std::string no_common_aim(const Comparison& c) {
  if (!c.asked_differently.empty()) {
    return "the two sides have no aim in common that both ask alike; give both the same `ride`, "
           "`must.pull_away.to`, `cruise` and `must.climbs`";
  }
  return "the two sides have no aim in common; give both the same `objectives`, for example with "
         "--set 'objectives=[pull_away, range, price]'";
}

}  // namespace

bool Comparison::asks_differently(std::string_view question) const {
  return std::ranges::find(asked_differently, question, &AskedDifferently::question) !=
         asked_differently.end();
}

bool Comparison::b_dominates(const Side& side_a) const {
  return no_design_left(a, side_a.front.members.size());
}

bool Comparison::a_dominates(const Side& side_b) const {
  return no_design_left(b, side_b.front.members.size());
}

std::vector<Difference> differences_of(const Design& a, const Design& b) {
  std::map<std::string, double> of_b;
  for (const Figure& figure : figures_of(b)) of_b[figure.key] = figure.value;
  const std::vector<Item> items_a = items_of(a);
  const std::vector<Item> items_b = items_of(b);
  std::vector<Difference> list;
  for (const Figure& figure : figures_of(a)) {
    const auto other = of_b.find(counterpart(figure.key, items_a, items_b));
    if (other != of_b.end()) list.push_back({figure.key, figure.value, other->second});
  }
  return list;
}

std::optional<std::string> not_comparable(const spec::Requirement& a, const spec::Requirement& b) {
  if (a.currency == b.currency) return std::nullopt;
  return "A is in " + a.currency + " and B in " + b.currency +
         ", so their prices cannot be compared; write both, and their parts, in one currency";
}

tl::expected<Comparison, std::string> compare(const Side& a, const Side& b) {
  const spec::Requirement& asked_a = a.job->requirement;
  const spec::Requirement& asked_b = b.job->requirement;
  if (const auto why = not_comparable(asked_a, asked_b)) return tl::unexpected(*why);
  Comparison result;
  result.asked_differently = asked_differently(asked_a, asked_b);
  std::vector<std::size_t> places_a;
  std::vector<std::size_t> places_b;
  for (const spec::MetricInfo* info : a.setup.objectives) {
    const auto place = place_of(b, info);
    if (!place || !is_comparable(result, *info)) continue;
    result.aims.push_back(info);
    places_a.push_back(*place_of(a, info));
    places_b.push_back(*place);
  }
  if (result.aims.empty()) {
    return tl::unexpected<std::string>(no_common_aim(result));
  }
  const Values values_a = common_values(a.front, places_a);
  const Values values_b = common_values(b.front, places_b);
  result.a = standing(values_a, values_b, result.aims.size());
  result.b = standing(values_b, values_a, result.aims.size());

  auto aims = result.aims;
  std::erase(aims, spec::find_metric("price"));
  const auto offers_a = offers(a, aims);
  const auto offers_b = offers(b, aims);
  result.budget_known = offers_a && offers_b && !aims.empty();
  if (result.budget_known) result.budget = budget_steps(*offers_a, *offers_b, aims);

  if (!a.front.members.empty()) {
    result.a_balanced = balanced_member(a.front, a.setup.objectives.size());
  }
  if (!b.front.members.empty()) {
    result.b_balanced = balanced_member(b.front, b.setup.objectives.size());
  }
  if (result.a_balanced && result.b_balanced) {
    result.differences = differences_of(a.design(*result.a_balanced), b.design(*result.b_balanced));
    std::erase_if(result.differences,
                  [&](const Difference& d) { return !is_comparable(result, d.key); });
  }
  return result;
}

}  // namespace sprocketry::search
