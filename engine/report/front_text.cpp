#include "report/front_text.hpp"

#include <algorithm>
#include <limits>
#include <set>

#include "report/cautions.hpp"
#include "report/design_text.hpp"

namespace sprocketry::report {
namespace {

using search::Design;

void write_account(std::ostream& out, const Result& r, Colour colour) {
  const search::Account& account = r.front.account;
  search::Count rejected = 0;
  for (const search::Count count : account.rejected) rejected += count;
  const auto title = r.job.requirement.title.empty() ? "Result" : r.job.requirement.title;
  out << bold(title, colour) << "\n\n";
  out << grouped(account.combinations) << " combinations of parts: " << grouped(rejected)
      << " break a rule, " << grouped(account.evaluated) << " meet every one.\n";
}

void write_rejections(std::ostream& out, const Result& r, std::size_t most) {
  const auto& rejected = r.front.account.rejected;
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < rejected.size(); ++i) {
    if (rejected[i] > 0) order.push_back(i);
  }
  std::ranges::stable_sort(order,
                           [&](std::size_t a, std::size_t b) { return rejected[a] > rejected[b]; });
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < std::min(most, order.size()); ++i) {
    const rules::Rule& rule = rules::rule_table()[order[i]];
    rows.push_back(
        {grouped(rejected[order[i]]), std::string(rule.name), std::string(rule.explanation)});
  }
  out << table({{"rejected", true}, {"rule", false}, {"what must hold", false}}, rows, "  ",
               Colour::kNever);
}

std::vector<const spec::MetricInfo*> shown_metrics(const Result& r) {
  std::vector<const spec::MetricInfo*> columns = r.setup.objectives;
  for (const char* name : {"top_speed", "sustained_speed", "mass"}) {
    const auto* info = spec::find_metric(name);
    if (std::ranges::find(columns, info) == columns.end()) columns.push_back(info);
  }
  return columns;
}

std::string gearing_text(const rules::Selection& s) {
  return std::to_string(s.front_teeth) + "/" + std::to_string(s.rear_teeth);
}

void write_table(std::ostream& out, const Result& r, const std::vector<std::size_t>& members,
                 Colour colour) {
  const auto metrics = shown_metrics(r);
  std::vector<Column> columns = {{"#", true}};
  for (const auto* info : metrics) {
    const Shown s = shown(*info, r.job.requirement);
    columns.push_back({s.label + (s.unit.empty() ? "" : " [" + s.unit + "]"), true});
  }
  for (const char* part : {"gearing", "motor", "controller", "pack", "charger", "chain"}) {
    columns.push_back({part, false});
  }
  std::vector<std::vector<std::string>> rows;
  for (const std::size_t i : members) {
    const Design d = search::evaluate_design(r.setup, r.space, r.front.members[i]);
    auto& row = rows.emplace_back();
    row.push_back(std::to_string(i + 1));
    for (const auto* info : metrics) {
      const Shown s = shown(*info, r.job.requirement);
      row.push_back(rounded(info->value(d.metrics) * s.factor, s.decimals));
    }
    const rules::Selection& p = d.parts;
    row.insert(row.end(), {gearing_text(p), p.motor->id, p.controller->id, p.pack->id,
                           p.charger ? p.charger->id : rules::kNoCharger, p.chain->id});
  }
  out << table(columns, rows, "", colour);
}

void write_defaults_text(std::ostream& out, const Result& r) {
  if (r.job.requirement.defaults.empty()) return;
  std::string text = "Assumed, since not stated: ";
  bool first = true;
  for (const parts::Default& entry : r.job.requirement.defaults) {
    if (!first) text += "; ";
    text += entry.key + " " + entry.value;
    first = false;
  }
  out << '\n' << wrapped(text + ". (Sources: --format json.)", "");
}

void write_nothing(std::ostream& out, const Result& r, Colour colour) {
  if (r.front.account.combinations == 0) {
    out << "There is nothing to combine: after `choose`, these slots have no option:";
    const search::Space& s = r.space;
    if (s.motors.empty()) out << " motor";
    if (s.controllers.empty()) out << " controller";
    if (s.packs.empty()) out << " pack";
    if (s.chargers.empty()) out << " charger";
    if (s.chains.empty()) out << " chain";
    if (s.fronts.empty()) out << " front_sprocket";
    if (s.rears.empty()) out << " rear_sprocket";
    out << ".\n";
    return;
  }
  out << bold("No combination meets every rule and demand.", colour)
      << " Each was rejected under the first rule that it breaks:\n\n";
  write_rejections(out, r, 100);
  out << "\nEase the demand with the largest count near the end of the rules, or add parts; "
         "`evaluate` shows\nevery margin of one combination.\n";
}

}  // namespace

std::vector<std::size_t> spread(const Result& r, std::size_t most) {
  const std::size_t size = r.front.members.size();
  std::set<std::size_t> chosen;
  if (size <= most) {
    for (std::size_t i = 0; i < size; ++i) chosen.insert(i);
    return {chosen.begin(), chosen.end()};
  }
  for (std::size_t k = 0; k < r.setup.objectives.size(); ++k) {
    const auto best = std::ranges::min_element(r.front.objectives, {},
                                               [&](const auto& values) { return values[k]; });
    chosen.insert(static_cast<std::size_t>(best - r.front.objectives.begin()));
  }
  chosen.insert(balanced(r));
  // Evenly over what is left; bigger and bigger shares until enough are in.
  for (std::size_t parts = most - chosen.size(); parts > 1 && chosen.size() < most; --parts) {
    std::set<std::size_t> trial = chosen;
    for (std::size_t i = 0; i < parts; ++i) trial.insert(i * (size - 1) / (parts - 1));
    if (trial.size() <= most) {
      chosen = std::move(trial);
      break;
    }
  }
  return {chosen.begin(), chosen.end()};
}

std::size_t balanced(const Result& r) {
  const auto& values = r.front.objectives;
  std::vector<double> sums(values.size(), 0.0);
  for (std::size_t k = 0; k < r.setup.objectives.size(); ++k) {
    const auto at = [&](const auto& v) { return v[k]; };
    const auto [low, high] = std::ranges::minmax(values, {}, at);
    const double span = high[k] - low[k];
    if (!(span > 0)) continue;
    for (std::size_t i = 0; i < values.size(); ++i) sums[i] += (values[i][k] - low[k]) / span;
  }
  return static_cast<std::size_t>(std::ranges::min_element(sums) - sums.begin());
}

void write_front_text(std::ostream& out, const Result& r, bool all, Colour colour) {
  constexpr std::size_t kMostShown = 24;
  write_account(out, r, colour);
  const std::size_t size = r.front.members.size();
  if (size == 0) {
    write_nothing(out, r, colour);
    return;
  }
  const std::size_t most = all ? std::numeric_limits<std::size_t>::max() : kMostShown;
  const std::vector<std::size_t> members = spread(r, most);
  out << "None of these " << size << " can be bettered in one aim without losing in another";
  if (members.size() < size) {
    out << "; " << members.size() << " of them, spread over the whole (--all shows all)";
  }
  out << ":\n\n";
  write_table(out, r, members, colour);
  const std::size_t middle = balanced(r);
  out << "\nNumber " << middle + 1 << " gives away least on all aims together:\n";
  write_design_lines(out, search::evaluate_design(r.setup, r.space, r.front.members[middle]),
                     r.job);
  out << "\nRejected most often:\n";
  write_rejections(out, r, 5);
  write_defaults_text(out, r);
  out << '\n' << bold("Before you build", colour) << '\n';
  for (const std::string_view caution : cautions()) {
    std::string text = wrapped(caution, "    ");
    text[2] = '-';
    out << text;
  }
}

}  // namespace sprocketry::report
