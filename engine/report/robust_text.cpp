#include <algorithm>
#include <cmath>
#include <numeric>

#include "parts/values.hpp"
#include "report/cautions.hpp"
#include "report/display.hpp"
#include "report/input_words.hpp"
#include "report/robust_report.hpp"

namespace sprocketry::report {
namespace {

using search::RobustCheck;
using search::RobustDesign;
using search::RobustFigure;

constexpr std::size_t kFew = 3;
constexpr double kWorthIt = 0.05;

// Never "100.0 %" or "0.0 %" for what is not all or nothing.
std::string percent(double share) {
  constexpr double kHalfStep = 0.0005;
  if (share < 1 && share >= 1 - kHalfStep) return "> 99.9 %";
  if (share > 0 && share < kHalfStep) return "< 0.1 %";
  return rounded(100 * share, 1) + " %";
}

std::string name_of(const RobustCheck& check) {
  const std::string name(check.check.rule->name);
  return check.about.empty() ? name : name + " (" + check.about + ")";
}

// The input that moves a number most, if any does: "bike.drag_area (-0.93)".
std::string mover(const std::vector<double>& by, const search::Robustness& r) {
  constexpr double kTelling = 0.1;
  const auto most =
      std::ranges::max_element(by, {}, [](double correlation) { return std::abs(correlation); });
  if (most == by.end() || std::abs(*most) < kTelling) return "-";
  const std::string sign = *most > 0 ? "+" : "";
  return r.inputs[static_cast<std::size_t>(most - by.begin())].input.path + " (" + sign +
         rounded(*most, 2) + ")";
}

void write_head(std::ostream& out, const RobustAnswer& a, Colour colour) {
  const search::Robustness& r = a.robustness;
  const std::string title = a.job.requirement.title.empty() ? "" : a.job.requirement.title + ": ";
  std::string what = "how sure is one design";
  if (a.front > 0) {
    what = "how sure are " + grouped(r.designs.size()) + " of the " + grouped(a.front) +
           " designs on the front";
    if (a.front == r.designs.size()) {
      what = a.front == 1 ? "how sure is the one design on the front"
                          : "how sure are the " + grouped(a.front) + " designs on the front";
    }
  }
  out << bold(title + what, colour) << '\n'
      << grouped(r.samples) << " samples of " << grouped(r.inputs.size())
      << (r.inputs.size() == 1 ? " uncertain input" : " uncertain inputs, all at once")
      << "; a share is good to about " << rounded(50 / std::sqrt(static_cast<double>(r.samples)), 1)
      << " %.";
  if (r.refused > 0) out << ' ' << grouped(r.refused) << " more could not be and were passed over.";
  out << "\n\n";
}

void write_inputs(std::ostream& out, const RobustAnswer& a) {
  std::vector<std::vector<std::string>> rows;
  bool any_usual = false;
  for (const search::Uncertain& u : a.robustness.inputs) {
    any_usual = any_usual || u.usual;
    rows.push_back({u.input.path, value_text(u.input), u.spread.text,
                    u.usual          ? "usual, value assumed"
                    : u.input.stated ? "stated"
                                     : "stated, value assumed"});
  }
  out << table({{"uncertain", false}, {"value", false}, {"spread", false}, {"", false}}, rows, "  ",
               Colour::kNever);
  if (any_usual) {
    out << "  A usual spread is " << search::kUsualSource << "; `spread` states better ones.\n";
  }
  std::string unused;
  for (const std::string& path : unused_spreads(a)) unused += (unused.empty() ? "" : ", ") + path;
  if (!unused.empty()) {
    out << wrapped("Stated, but of no part of these designs: " + unused + '.', "  ");
  }
  const std::size_t held = held_fixed(a).size();
  if (held > 0) {
    out << wrapped(grouped(held) +
                       (held == 1 ? " other assumed value is" : " other assumed values are") +
                       " held fixed: a standard, the cell's chemistry or the question itself sets "
                       "them (--format json names them).",
                   "  ");
  }
}

// Of two rules that hold equally often the first.
const RobustCheck* weakest(const RobustDesign& design) {
  const auto found = std::ranges::min_element(design.checks, {}, &RobustCheck::share);
  return found == design.checks.end() ? nullptr : &*found;
}

std::string span_text(const RobustFigure& figure, const Shown& as) {
  return shown_value(as, figure.low) + " to " + shown_value(as, figure.high);
}

std::vector<const spec::MetricInfo*> objectives_of(const spec::Requirement& requirement) {
  std::vector<const spec::MetricInfo*> objectives;
  for (const std::string& name : requirement.objectives) {
    objectives.push_back(spec::find_metric(name));
  }
  return objectives;
}

void write_table(std::ostream& out, const RobustAnswer& a, Colour colour) {
  const spec::Requirement& requirement = a.job.requirement;
  const auto objectives = objectives_of(requirement);
  std::vector<Column> columns = {{"no"}, {"all hold"}, {"the least sure rule", false}, {"holds"}};
  for (const spec::MetricInfo* info : objectives) {
    const Shown as = shown(*info, requirement);
    columns.push_back({as.label, true, as.unit});
  }
  std::vector<std::vector<std::string>> rows;
  for (const RobustDesign& design : a.robustness.designs) {
    const RobustCheck* least = weakest(design);
    const bool sure = least == nullptr || least->share == 1;
    std::vector<std::string> row = {grouped(rows.size() + 1), percent(design.confidence),
                                    sure ? "-" : name_of(*least),
                                    sure ? "-" : percent(least->share)};
    for (const spec::MetricInfo* info : objectives) {
      const auto figure = std::ranges::find(design.figures, info, &RobustFigure::metric);
      row.push_back(figure == design.figures.end() ? "-"
                                                   : span_text(*figure, shown(*info, requirement)));
    }
    rows.push_back(std::move(row));
  }
  out << "\nShare of the samples in which every rule and demand holds, and 10 to 90 % of the "
         "samples "
         "lie\nfrom ... to:\n"
      << table(columns, rows, "  ", colour) << '\n';
  for (std::size_t i = 0; i < a.robustness.designs.size(); ++i) {
    const std::string number = grouped(i + 1);
    out << std::string(4 - std::min<std::size_t>(3, number.size()), ' ') << number << "  "
        << a.robustness.designs[i].id << '\n';
  }
}

void write_checks(std::ostream& out, const RobustAnswer& a, Colour colour) {
  const RobustDesign& design = a.robustness.designs.front();
  std::vector<std::vector<std::string>> rows;
  std::size_t sure = 0;
  for (const RobustCheck& check : design.checks) {
    const bool demanded = check.check.rule->name.starts_with("must ");
    if (check.share == 1 && !demanded) {
      ++sure;
      continue;
    }
    rows.push_back({name_of(check), percent(check.share), mover(check.by, a.robustness)});
  }
  out << '\n'
      << "Every rule and demand holds in " << bold(percent(design.confidence), colour)
      << " of the samples. Each by itself:\n"
      << table({{"rule", false}, {"holds"}, {"moved most by", false}}, rows, "  ", colour);
  if (sure > 0) out << "  The other " << grouped(sure) << " rules hold in every sample.\n";
}

void write_figures(std::ostream& out, const RobustAnswer& a, Colour colour) {
  const spec::Requirement& requirement = a.job.requirement;
  std::vector<std::vector<std::string>> rows;
  for (const RobustFigure& figure : a.robustness.designs.front().figures) {
    const Shown as = shown(*figure.metric, requirement);
    rows.push_back({as.label, as.unit, shown_value(as, figure.stated), shown_value(as, figure.low),
                    shown_value(as, figure.middle), shown_value(as, figure.high),
                    mover(figure.by, a.robustness)});
  }
  out << "\nFigures as stated, and the values that 10, 50 and 90 % of the samples stay below:\n"
      << table({{"", false},
                {"", false},
                {"stated"},
                {"10 %"},
                {"50 %"},
                {"90 %"},
                {"moved most by", false}},
               rows, "  ", colour);
}

// The mean over the designs.
std::vector<double> overall(const search::Robustness& r) {
  std::vector<double> sums(r.inputs.size(), 0.0);
  for (const RobustDesign& design : r.designs) {
    for (std::size_t i = 0; i < sums.size(); ++i) sums[i] += design.weights[i];
  }
  for (double& sum : sums) sum /= static_cast<double>(r.designs.size());
  return sums;
}

// "drag area of bike and rider (bike.drag_area)".
std::string named(const search::Uncertain& u) {
  const std::string name = words_of(u.input).name;
  return name == u.input.path ? name : name + " (" + u.input.path + ")";
}

std::string explains(double weight) { return "explains " + rounded(100 * weight, 0) + " %"; }

void write_first(std::ostream& out, const RobustAnswer& a, Colour colour) {
  const search::Robustness& r = a.robustness;
  const bool all_sure =
      std::ranges::all_of(r.designs, [](const RobustDesign& d) { return d.confidence == 1; });
  const std::vector<double> weights = overall(r);
  const auto first = measure_first(r, weights, kFew);
  out << '\n'
      << bold("Measure first", colour)
      << (all_sure ? " what moves the objectives most"
                   : " what decides most whether the rules hold")
      << (first.empty() ? ": no input stands out.\n" : ":\n");
  for (std::size_t i = 0; i < first.size(); ++i) {
    const search::Uncertain& u = r.inputs[first[i]];
    std::string text = named(u) + ", now " + value_text(u.input) +
                       (u.input.stated ? ", " : " assumed, ") + u.spread.text + ": " +
                       explains(weights[first[i]]) + ".";
    const std::string_view how = words_of(u.input).how;
    if (!how.empty()) text += " How: " + std::string(how) + '.';
    std::string lines = wrapped(text, "     ");
    lines.replace(0, 4, "  " + std::to_string(i + 1) + '.');
    out << lines;
  }
  std::string weather;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    if (is_measured(r.inputs[i].input) || weights[i] < kWorthIt) continue;
    weather += (weather.empty() ? "" : ", ") + named(r.inputs[i]) + ' ' + explains(weights[i]);
  }
  if (!weather.empty()) {
    out << wrapped("No measurement settles the conditions: " + weather +
                       ". State those that you mean, or their spread over a year.",
                   "  ");
  }
}

}  // namespace

std::vector<std::size_t> measure_first(const search::Robustness& r, std::span<const double> weights,
                                       std::size_t most) {
  std::vector<std::size_t> order(weights.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::erase_if(order, [&](std::size_t i) {
    return weights[i] < kWorthIt || !is_measured(r.inputs[i].input);
  });
  std::ranges::stable_sort(order,
                           [&](std::size_t a, std::size_t b) { return weights[a] > weights[b]; });
  order.resize(std::min(order.size(), most));
  return order;
}

void write_robust_text(std::ostream& out, const RobustAnswer& a, Colour colour) {
  write_head(out, a, colour);
  write_inputs(out, a);
  if (a.robustness.designs.size() > 1) {
    write_table(out, a, colour);
  } else {
    const RobustDesign& design = a.robustness.designs.front();
    out << '\n' << design.id << '\n';
    if (!design.holds) out << "As stated it does not hold: a rule rejects it.\n";
    write_checks(out, a, colour);
    write_figures(out, a, colour);
  }
  write_first(out, a, colour);
  if (a.robustness.designs.size() > 1) {
    out << "\nEvery rule and figure of one: robust, with --pick and its id.\n";
  }
  out << '\n';
  write_cautions(out, a.job.requirement, colour);
}

}  // namespace sprocketry::report
