#include "report/check_report.hpp"
#include "report/json_writer.hpp"

namespace sprocketry::report {
namespace {

void write_changes(JsonWriter& json, const std::vector<parts::FieldChange>& changes) {
  json.key("changes");
  json.begin_list();
  for (const auto& change : changes) {
    json.begin_object(Layout::kLine);
    json.member("field", change.field);
    json.member("from", change.from);
    json.member("to", change.to);
    json.end_object();
  }
  json.end_list();
}

void write_figures(JsonWriter& json, const search::Check& check) {
  json.key("figures");
  json.begin_list();
  for (const search::FigureDrift& drift : check.figures) {
    json.begin_object(Layout::kLine);
    json.member("key", drift.key);
    json.member("then", drift.then);
    json.member("by_model", drift.by_model);
    json.member("now", drift.now);
    json.member("allowed", drift.allowed);
    json.member("beyond", drift.beyond);
    json.end_object();
  }
  json.end_list();
}

void write_side(JsonWriter& json, const char* key, const std::optional<search::LockedRule>& rule) {
  json.key(key);
  if (!rule) {
    json.null();
    return;
  }
  json.begin_object(Layout::kLine);
  json.member("outcome", name_of(rule->outcome));
  json.member("value", rule->value);
  json.member("limit", rule->limit);
  json.member("margin", rule->margin);
  json.end_object();
}

void write_rules(JsonWriter& json, const search::Check& check) {
  json.key("rules");
  json.begin_list();
  for (const search::RuleDrift& drift : check.rules) {
    const search::LockedRule& rule = drift.either();
    json.begin_object(Layout::kLine);
    json.member("rule", rule.rule);
    if (!rule.about.empty()) json.member("about", rule.about);
    json.member("unit", rule.unit);
    write_side(json, "then", drift.then);
    write_side(json, "now", drift.now);
    json.end_object();
  }
  json.end_list();
}

const char* state_of(const search::PartDrift& part) {
  switch (part.state) {
    case search::PartDrift::State::kSame:
      return "same";
    case search::PartDrift::State::kChanged:
      return "changed";
    case search::PartDrift::State::kGone:
      break;
  }
  return "gone";
}

void write_texts(JsonWriter& json, const char* key, const std::vector<std::string>& texts) {
  json.key(key);
  json.begin_list(Layout::kLine);
  for (const std::string& text : texts) json.value(text);
  json.end_list();
}

void write_stand_ins(JsonWriter& json, const search::PartDrift& part) {
  json.key("stand_ins");
  json.begin_list();
  for (const search::StandIn& stand_in : part.stand_ins) {
    json.begin_object(Layout::kLine);
    json.member("part", stand_in.part);
    json.member("design", stand_in.design);
    json.member("movement_percent", stand_in.movement * 100);
    json.member("price_change", static_cast<double>(stand_in.price_change) / parts::kMoneyUnit);
    write_texts(json, "rejected_by", stand_in.rejected_by);
    write_texts(json, "breaks", stand_in.breaks);
    json.end_object();
  }
  json.end_list();
}

void write_parts(JsonWriter& json, const search::Check& check) {
  json.key("parts");
  json.begin_list();
  for (const search::PartDrift& part : check.parts) {
    json.begin_object();
    json.member("list", part.list);
    json.member("name", part.name);
    json.member("state", state_of(part));
    json.member("owned", part.owned);
    write_changes(json, part.changes);
    if (part.state == search::PartDrift::State::kGone) {
      json.member("missing", part.missing);
      json.member("nearest", part.nearest);
      json.member("renamed", part.renamed);
      write_stand_ins(json, part);
    }
    json.end_object();
  }
  json.end_list();
}

void write_files(JsonWriter& json, const search::Check& check) {
  using State = search::FileDrift::State;
  json.key("files");
  json.begin_list();
  for (const search::FileDrift& drift : check.files) {
    json.begin_object(Layout::kLine);
    json.member("role", drift.file.role);
    json.member("path", drift.file.path);
    json.member("state", drift.state == State::kSame      ? "same"
                         : drift.state == State::kChanged ? "changed"
                                                          : "missing");
    if (drift.changes) write_changes(json, *drift.changes);
    json.end_object();
  }
  json.end_list();
}

}  // namespace

void write_check_json(std::ostream& out, const CheckAnswer& a) {
  JsonWriter json(out);
  json.begin_object();
  json.member("sprocketry", a.version);
  json.member("locked_by", a.lock.model);
  json.member("design", a.lock.design);
  json.member("holds", a.check.holds());
  write_parts(json, a.check);
  write_texts(json, "extras_added", a.check.extras_added);
  write_texts(json, "extras_dropped", a.check.extras_dropped);
  write_figures(json, a.check);
  write_rules(json, a.check);
  write_files(json, a.check);
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
