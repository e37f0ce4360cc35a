#include <algorithm>
#include <array>

#include "report/design_json.hpp"
#include "report/input_words.hpp"
#include "report/json_writer.hpp"
#include "report/robust_report.hpp"
#include "spec/spread.hpp"

namespace sprocketry::report {
namespace {

void write_input(JsonWriter& json, const search::Uncertain& u) {
  json.begin_object(Layout::kLine);
  json.member("path", u.input.path);
  json.member("name", words_of(u.input).name);
  json.member("value", value_text(u.input));
  json.member("value_stated", u.input.stated);
  json.member("spread", u.spread.text);
  json.member("source", u.usual ? search::kUsualSource : "the requirement");
  json.end_object();
}

// {"bike.drag_area": -0.93, ...}: what moves a number at all.
void write_movers(JsonWriter& json, const std::vector<double>& by, const search::Robustness& r) {
  json.key("rank_correlation");
  json.begin_object(Layout::kLine);
  for (std::size_t i = 0; i < by.size(); ++i) {
    if (by[i] != 0) json.member(r.inputs[i].input.path, by[i]);
  }
  json.end_object();
}

void write_check(JsonWriter& json, const search::RobustCheck& check, const search::Robustness& r) {
  json.begin_object();
  json.member("rule", check.check.rule->name);
  json.key("about");
  check.about.empty() ? json.null() : json.value(check.about);
  json.member("holds_as_stated", check.holds);
  json.member("share", check.share);
  write_movers(json, check.by, r);
  json.end_object();
}

void write_figure(JsonWriter& json, const search::RobustFigure& figure,
                  const spec::Requirement& requirement, const search::Robustness& r) {
  json.begin_object();
  json.member("name", figure.metric->name);
  json.member("unit", figure.metric->name == "price" ? std::string_view(requirement.currency)
                                                     : figure.metric->unit);
  json.member("stated", figure.stated);
  json.member("p10", figure.low);
  json.member("p50", figure.middle);
  json.member("p90", figure.high);
  write_movers(json, figure.by, r);
  json.end_object();
}

void write_design(JsonWriter& json, const search::RobustDesign& design, const RobustAnswer& a) {
  json.begin_object();
  json.member("id", design.id);
  json.member("holds_as_stated", design.holds);
  json.member("confidence", design.confidence);
  json.key("rules");
  json.begin_list();
  for (const search::RobustCheck& check : design.checks) write_check(json, check, a.robustness);
  json.end_list();
  json.key("figures");
  json.begin_list();
  for (const search::RobustFigure& figure : design.figures) {
    write_figure(json, figure, a.job.requirement, a.robustness);
  }
  json.end_list();
  json.key("weights");
  json.begin_object(Layout::kLine);
  for (std::size_t i = 0; i < design.weights.size(); ++i) {
    if (design.weights[i] > 0) {
      json.member(a.robustness.inputs[i].input.path, design.weights[i]);
    }
  }
  json.end_object();
  json.key("measure_first");
  json.begin_list();
  for (const std::size_t i : measure_first(a.robustness, design.weights, design.weights.size())) {
    const parts::Input& input = a.robustness.inputs[i].input;
    const InputWords words = words_of(input);
    json.begin_object(Layout::kLine);
    json.member("path", input.path);
    json.key("how");
    words.how.empty() ? json.null() : json.value(words.how);
    json.end_object();
  }
  json.end_list();
  json.end_object();
}

}  // namespace

std::vector<parts::Default> held_fixed(const RobustAnswer& a) {
  std::vector<parts::Default> held = defaults_in_use(a.job, a.designs);
  std::erase_if(held, [&](const parts::Default& entry) {
    constexpr std::array<std::string_view, 5> kWords = {"currency", "objectives", "bike.posture",
                                                        ".settable", ".carried"};
    const bool is_word = std::ranges::any_of(
        kWords, [&](std::string_view word) { return entry.key.ends_with(word); });
    return is_word || !spec::may_be_uncertain(entry.key) ||
           std::ranges::any_of(a.robustness.inputs, [&](const search::Uncertain& u) {
             return u.input.path == entry.key || u.input.path.starts_with(entry.key + '.');
           });
  });
  return held;
}

std::vector<std::string> unused_spreads(const RobustAnswer& a) {
  std::vector<std::string> unused;
  for (const spec::Spread& spread : a.job.requirement.spreads) {
    const bool used = std::ranges::any_of(a.robustness.inputs, [&](const search::Uncertain& u) {
      return spec::names(spread.path, u.input);
    });
    if (!used && !spread.exact) unused.push_back(spread.path);
  }
  return unused;
}

void write_robust_json(std::ostream& out, const RobustAnswer& a) {
  JsonWriter json(out);
  json.begin_object();
  json.member("samples", a.robustness.samples);
  json.member("refused", a.robustness.refused);
  json.key("inputs");
  json.begin_list();
  for (const search::Uncertain& u : a.robustness.inputs) write_input(json, u);
  json.end_list();
  json.key("unused");
  json.begin_list(Layout::kLine);
  for (const std::string& path : unused_spreads(a)) json.value(path);
  json.end_list();
  json.key("designs");
  json.begin_list();
  for (const search::RobustDesign& design : a.robustness.designs) write_design(json, design, a);
  json.end_list();
  const std::vector<parts::Default> held = held_fixed(a);
  json.key("held_fixed");
  json.begin_list();
  for (const parts::Default& entry : held) json.value(entry.key);
  json.end_list();
  write_defaults(json, defaults_in_use(a.job, a.designs));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
