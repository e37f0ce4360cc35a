#include "report/compare_report.hpp"
#include "report/json_writer.hpp"

namespace sprocketry::report {
namespace {

double amount(search::Money money) { return static_cast<double>(money) / parts::kMoneyUnit; }

void write_texts(JsonWriter& json, const char* key, const std::vector<std::string>& texts) {
  json.key(key);
  json.begin_list(Layout::kLine);
  for (const std::string& text : texts) json.value(text);
  json.end_list();
}

void write_side(JsonWriter& json, const char* name, const std::string& label,
                const search::Side& side, const search::Standing& standing,
                std::optional<std::size_t> balanced) {
  json.key(name);
  json.begin_object();
  json.member("label", label);
  json.member("pick", side.is_pick);
  if (!side.is_pick) json.member("combinations", side.front.account.combinations);
  write_texts(json, "rejected_by", side.rejected_by);
  json.member("beaten", standing.beaten);
  json.member("matched", standing.matched);
  json.member("balanced", balanced);
  json.key("front");
  json.begin_list();
  for (std::size_t i = 0; i < side.front.members.size(); ++i) {
    const search::Design design = side.design(i);
    json.begin_object(Layout::kLine);
    json.member("id", rules::design_id(design.parts));
    for (const spec::MetricInfo& info : spec::metric_table()) {
      if (!info.json_key.empty()) json.member(info.json_key, info.value(design.metrics));
    }
    json.end_object();
  }
  json.end_list();
  json.end_object();
}

const char* name_of(search::Ahead ahead) {
  switch (ahead) {
    case search::Ahead::kA:
      return "a";
    case search::Ahead::kB:
      return "b";
    case search::Ahead::kBoth:
      return "each";
    case search::Ahead::kNeither:
      break;
  }
  return "equal";
}

void write_budget(JsonWriter& json, const search::Comparison& c) {
  auto aims = c.aims;
  std::erase(aims, spec::find_metric("price"));
  json.key("budget");
  if (!c.budget_known) {
    json.null();
    return;
  }
  json.begin_list();
  for (const search::BudgetStep& step : c.budget) {
    json.begin_object(Layout::kLine);
    json.member("from", step.budget);
    json.member("ahead", name_of(step.ahead));
    json.member("a_has_a_design", step.a_has);
    json.member("b_has_a_design", step.b_has);
    for (std::size_t k = 0; k < aims.size(); ++k) {
      json.key(aims[k]->name);
      json.begin_object(Layout::kLine);
      json.member("ahead", name_of(step.leads[k]));
      json.member("a", step.a[k]);
      json.member("b", step.b[k]);
      json.end_object();
    }
    json.end_object();
  }
  json.end_list();
}

void write_extras(JsonWriter& json, const char* key,
                  const std::vector<search::ExtraChange>& extras) {
  json.key(key);
  json.begin_list();
  for (const search::ExtraChange& extra : extras) {
    json.begin_object(Layout::kLine);
    json.member("id", extra.id);
    json.member("price", amount(extra.price));
    json.member("reason", extra.reason);
    json.end_object();
  }
  json.end_list();
}

void write_upgrade(JsonWriter& json, const search::Upgrade& upgrade) {
  json.begin_object();
  json.member("design", upgrade.design);
  json.member("price", amount(upgrade.price));
  json.key("exchanged");
  json.begin_list();
  for (const search::Exchanged& one : upgrade.exchanged) {
    json.begin_object(Layout::kLine);
    json.member("slot", one.slot);
    json.member("from", one.from);
    json.member("to", one.to);
    json.member("price", amount(one.price));
    write_texts(json, "no_longer_fits", one.no_longer_fits);
    write_texts(json, "clashes_with", one.clashes_with);
    write_texts(json, "misses", one.misses);
    json.end_object();
  }
  json.end_list();
  write_extras(json, "extras_bought", upgrade.bought);
  write_extras(json, "extras_dropped", upgrade.dropped);
  write_texts(json, "kept", upgrade.kept);
  json.key("misfits");
  json.begin_list();
  for (const search::Misfit& misfit : upgrade.misfits) {
    json.begin_object(Layout::kLine);
    json.member("part", misfit.part);
    write_texts(json, "rules", misfit.rules);
    json.end_object();
  }
  json.end_list();
  json.end_object();
}

}  // namespace

void write_compare_json(std::ostream& out, const CompareAnswer& a) {
  const search::Comparison& c = a.comparison;
  JsonWriter json(out);
  json.begin_object();
  json.member("sprocketry", a.version);
  json.key("aims");
  json.begin_list(Layout::kLine);
  for (const auto* info : c.aims) json.value(info->name);
  json.end_list();
  write_side(json, "a", a.label_a, a.a, c.a, c.a_balanced);
  write_side(json, "b", a.label_b, a.b, c.b, c.b_balanced);
  json.member("a_dominates", c.a_dominates(a.b));
  json.member("b_dominates", c.b_dominates(a.a));
  write_budget(json, c);
  json.key("differences");
  json.begin_list();
  for (const search::Difference& d : c.differences) {
    json.begin_object(Layout::kLine);
    json.member("key", d.key);
    json.member("a", d.a);
    json.member("b", d.b);
    json.end_object();
  }
  json.end_list();
  json.key("asked_differently");
  json.begin_list();
  for (const search::AskedDifferently& one : c.asked_differently) {
    json.begin_object(Layout::kLine);
    json.member("question", one.question);
    json.member("a", one.a);
    json.member("b", one.b);
    json.end_object();
  }
  json.end_list();
  json.key("upgrades");
  json.begin_list();
  if (a.running != nullptr) {
    for (std::size_t i = 0; i < a.b.front.members.size(); ++i) {
      write_upgrade(json, search::upgrade_to(*a.running, a.b, i));
    }
  }
  json.end_list();
  json.member("verdict", verdict(a));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
