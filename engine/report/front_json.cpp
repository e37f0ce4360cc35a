#include "report/front_json.hpp"

#include <map>
#include <sstream>

#include "search/in_order.hpp"

namespace sprocketry::report {
namespace {

// What merge needs besides the front itself: the question, the compatible combinations, the cells
// of the packs (whose ids need not tell them), and the members' values in the objectives.
void write_slice(JsonWriter& json, const Result& result, const SliceNote& note) {
  json.key("slice");
  json.begin_object();
  json.member("index", note.slice.index);
  json.member("of", note.slice.of);
  json.member("question", note.question);
  json.member("compatible", result.front.account.compatible);
  std::map<std::string_view, std::string_view> cells;
  for (const search::Combination& c : result.front.members) {
    const parts::PackPart& pack = result.space.packs[c.pack].part;
    cells.emplace(pack.id, pack.cell_id);
  }
  json.key("cells");
  json.begin_object();
  for (const auto& [pack, cell] : cells) json.member(pack, cell);
  json.end_object();
  json.key("values");
  json.begin_list();
  for (const auto& costs : result.front.objectives) {
    json.begin_list(Layout::kLine);
    for (std::size_t k = 0; k < result.setup.objectives.size(); ++k) {
      const bool lower = result.setup.objectives[k]->better == spec::Better::kLower;
      json.value(lower ? costs[k] : -costs[k]);
    }
    json.end_list();
  }
  json.end_list();
  json.end_object();
}

void write_objectives(JsonWriter& json, const Result& result) {
  json.key("objectives");
  json.begin_list();
  for (const spec::MetricInfo* info : result.setup.objectives) {
    json.begin_object(Layout::kLine);
    json.member("name", info->name);
    json.member("unit", info->name == "price" ? std::string_view(result.job.requirement.currency)
                                              : info->unit);
    json.member("better", info->better == spec::Better::kLower ? "lower" : "higher");
    json.end_object();
  }
  json.end_list();
}

void write_resolution(JsonWriter& json, const Result& result) {
  if (!result.front.coarseness) return;
  json.key("resolution");
  json.begin_object(Layout::kLine);
  for (std::size_t k = 0; k < result.setup.objectives.size(); ++k) {
    json.member(result.setup.objectives[k]->name, result.front.coarseness->resolution[k]);
  }
  json.end_object();
}

// Members of the front as they stand in its list, from the first one's brace to the last one's.
std::string members_json(const Result& result, RuleRows rows, std::size_t first, std::size_t last) {
  std::ostringstream out;
  {
    JsonWriter json(out, Indent::kPretty, 1);
    json.begin_list();
    for (std::size_t i = first; i < last; ++i) {
      json.begin_object();
      if (result.front.sampling) json.member("confidence_percent", confidence(result, i));
      if (result.front.near) json.member("on_front", bool{result.front.near->on_front[i]});
      write_design_members(
          json, search::evaluate_design(result.setup, result.space, result.front.members[i]),
          result.job.requirement, rows, false);
      json.end_object();
    }
    json.end_list();
  }
  const std::string_view list = out.view();
  const std::size_t begin = list.find('{');
  return std::string(list.substr(begin, list.rfind('}') + 1 - begin));
}

void write_sampling(JsonWriter& json, const std::optional<search::Sampling>& sampling) {
  if (!sampling) return;
  json.key("sampling");
  json.begin_object(Layout::kLine);
  json.member("samples", sampling->samples);
  json.member("refused", sampling->refused);
  json.member("inputs", sampling->inputs);
  json.member("evaluations", sampling->evaluations);
  json.end_object();
}

}  // namespace

void write_count(JsonWriter& json, const search::Account& account, bool exact, const Sizes& sizes) {
  json.key("count");
  json.begin_object();
  json.member("combinations", account.combinations);
  json.key("rejected");
  json.begin_object();
  for (std::size_t i = 0; i < account.rejected.size(); ++i) {
    if (account.rejected[i] > 0) json.member(rules::rule_table()[i].name, account.rejected[i]);
  }
  json.end_object();
  json.member("pruned", account.pruned);
  json.member("evaluated", account.evaluated);
  json.member("front", sizes.front);
  if (sizes.near) json.member("near", *sizes.near);
  if (sizes.kept) json.member("kept", *sizes.kept);
  if (!exact) {
    json.member("unsettled", account.unsettled);
    json.member("settled_percent", settled_percent(account));
  }
  json.end_object();
}

double confidence(const Result& result, std::size_t member) {
  if (!result.front.sampling) return model::kNone;
  return -result.front.objectives[member][result.setup.objectives.size() - 1];
}

double settled_percent(const search::Account& account) {
  if (account.compatible == 0) return 100;
  return 100 *
         (1 - static_cast<double>(account.unsettled) / static_cast<double>(account.compatible));
}

std::size_t whole_front(const search::Front& front) {
  if (front.coarseness) return front.coarseness->whole;
  return front.members.size() - (front.near ? front.near->beyond : 0);
}

void write_front_json(std::ostream& out, const Result& result, std::string_view version,
                      RuleRows rows, const SliceNote* slice, int threads) {
  const search::Front& front = result.front;
  JsonWriter json(out);
  json.begin_object();
  json.member("sprocketry", version);
  json.member("title", result.job.requirement.title);
  json.member("exact", front.exact);
  if (slice != nullptr) write_slice(json, result, *slice);
  write_defaults(json, defaults_in_use(result.job, search::selections(result.space, result.front)));
  Sizes sizes{whole_front(front)};
  if (front.near) sizes.near = front.near->beyond;
  if (front.coarseness) sizes.kept = front.members.size();
  write_count(json, front.account, front.exact, sizes);
  write_objectives(json, result);
  write_resolution(json, result);
  write_sampling(json, front.sampling);
  json.key("front");
  json.begin_list();
  search::write_in_order(
      front.members.size(), threads,
      [&](std::size_t first, std::size_t last, std::string& text) {
        text = members_json(result, rows, first, last);
      },
      [&](std::string_view text) { json.raw(text); });
  json.end_list();
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
