#include "report/design_csv.hpp"

#include <charconv>
#include <cmath>
#include <sstream>

#include "spec/metric_lists.hpp"

namespace sprocketry::report {
namespace {

void append_number(std::string& text, double value) {
  text += ',';
  if (!std::isfinite(value)) return;
  char buffer[32];
  const auto end = std::to_chars(std::begin(buffer), std::end(buffer), value == 0.0 ? 0.0 : value);
  text.append(std::begin(buffer), end.ptr);
}

// Metrics without values, for the names of the columns.
spec::Metrics shape(const spec::Requirement& requirement) {
  spec::Metrics m;
  m.listed_cruises = requirement.cruise.size();
  m.performance.cruise.resize(requirement.cruise.size());
  m.performance.accelerations.resize(requirement.accelerations.size());
  m.performance.climbs.resize(requirement.must.climbs.size());
  return m;
}

void append_rejections(std::string& text, const search::Design& design) {
  char separator = ',';
  for (const std::string_view name : design.rejected_by()) {
    text += separator;
    text += name;
    separator = ';';
  }
  if (separator == ',') text += ',';
}

}  // namespace

std::string csv_header(const spec::Requirement& requirement, bool with_rejections) {
  std::string text =
      "motor,controller,pack,charger,chain,front_sprocket,front_teeth,rear_sprocket,rear_teeth";
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (!info.json_key.empty()) text += ',' + std::string(info.json_key);
  }
  spec::each_list(
      shape(requirement), [&](const char* name, const auto& items, const auto& figures) {
        for (std::size_t i = 1; i <= items.size(); ++i) {
          const std::string stem = ',' + std::string(name) + '_' + std::to_string(i) + '_';
          for (const auto& figure : figures) text += stem + std::string(figure.key);
        }
      });
  if (with_rejections) text += ",rejected_by";
  return text + '\n';
}

void append_csv(std::string& text, const search::Design& design, bool with_rejections) {
  const rules::Selection& s = design.parts;
  // Ids and the names of rules hold no comma, quote or line end: nothing needs quoting.
  for (const std::string* id : {&s.motor->id, &s.controller->id, &s.pack->id}) text += *id + ',';
  if (s.charger) text += s.charger->id;
  text += ',' + s.chain->id + ',' + s.front->id + ',' + std::to_string(s.front_teeth) + ',' +
          s.rear->id + ',' + std::to_string(s.rear_teeth);
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (!info.json_key.empty()) append_number(text, info.value(design.metrics));
  }
  spec::each_list(design.metrics, [&](const char*, const auto& items, const auto& figures) {
    for (const auto& item : items) {
      for (const auto& figure : figures) append_number(text, figure.value(item));
    }
  });
  if (with_rejections) append_rejections(text, design);
  text += '\n';
}

void append_jsonl(std::string& text, const search::Design& design,
                  const spec::Requirement& requirement, RuleRows rows) {
  std::ostringstream line;
  {
    JsonWriter json(line, Indent::kCompact);
    json.begin_object();
    write_design_members(json, design, requirement, rows, true);
    json.end_object();
    json.end_line();
  }
  text += line.str();
}

}  // namespace sprocketry::report
