#include "report/front_merge.hpp"

#include <algorithm>
#include <tuple>

#include "document/text.hpp"
#include "report/front_json.hpp"
#include "search/front_of.hpp"

namespace sprocketry::report {
namespace {

using document::JsonNode;
using search::Count;

// The places, of members with these costs, of those that no other dominates.
std::vector<std::uint32_t> undominated(
    const std::vector<std::array<double, search::kMostObjectives>>& costs, std::size_t objectives) {
  std::vector<std::vector<double>> columns(objectives);
  std::vector<const double*> pointers;
  for (std::size_t k = 0; k < objectives; ++k) {
    columns[k].reserve(costs.size());
    for (const auto& values : costs) columns[k].push_back(values[k]);
    pointers.push_back(columns[k].data());
  }
  return search::front_of(pointers, costs.size());
}

}  // namespace

bool FrontMerge::agrees(const SliceFront& front, const document::Source& source,
                        document::Diagnostics& diagnostics) const {
  const auto refuse = [&](const JsonNode& node, std::string message, std::string hint) {
    diagnostics.error(document::mark_of(node, source), std::move(message), std::move(hint));
    return false;
  };
  const JsonNode& version = *front.root.find("sprocketry");
  if (version.text != version_) {
    return refuse(version,
                  "this was written by sprocketry " + version.text + ", and this is " + version_,
                  "merge with the program that searched, or search all slices again with this one");
  }
  if (of_ == 0) return true;
  const JsonNode& slice = *front.root.find("slice");
  const std::string& other = indices_.begin()->second;
  if (front.question != question_ || front.objectives != objectives_) {
    return refuse(*slice.find("question"), "this slice is of another question than " + other,
                  "search all slices with the same requirement, --set, parts files and --rules");
  }
  if (front.slice.of != of_) {
    return refuse(*slice.find("of"),
                  "this is one of " + std::to_string(front.slice.of) + " slices, and " + other +
                      " one of " + std::to_string(of_),
                  "merge slices of one division");
  }
  const auto twice = indices_.find(front.slice.index);
  if (twice == indices_.end()) return true;
  return refuse(
      *slice.find("index"),
      "slice " + std::to_string(front.slice.index) + " is there already: " + twice->second,
      "name each slice once");
}

void FrontMerge::take_head(const SliceFront& front) {
  question_ = front.question;
  of_ = front.slice.of;
  title_json_ = front.root.find("title")->raw;
  title_ = front.root.find("title")->text;
  objectives_json_ = front.root.find("objectives")->raw;
  objectives_ = front.objectives;
  for (const JsonNode& entry : front.root.find("defaults")->children) {
    if (!is_of_a_part(entry.find("key")->text)) requirement_defaults_.emplace_back(entry.raw);
  }
  account_.rejected.assign(front.account.rejected.size(), 0);
}

void FrontMerge::take_account(const SliceFront& front) {
  account_.combinations += front.account.combinations;
  account_.evaluated += front.account.evaluated;
  account_.pruned += front.account.pruned;
  account_.unsettled += front.account.unsettled;
  account_.compatible += front.account.compatible;
  for (std::size_t i = 0; i < account_.rejected.size(); ++i) {
    account_.rejected[i] += front.account.rejected[i];
  }
  for (const JsonNode& entry : front.root.find("defaults")->children) {
    const std::string& key = entry.find("key")->text;
    if (is_of_a_part(key)) part_defaults_.emplace(key, entry.raw);
  }
}

void FrontMerge::take_members(const SliceFront& front) {
  offered_ += front.members.size();
  std::vector<std::array<double, search::kMostObjectives>> costs;
  for (const Member& member : members_) costs.push_back(member.costs);
  for (const SliceMember& member : front.members) costs.push_back(member.costs);
  std::vector<Member> kept;
  for (const std::uint32_t place : undominated(costs, objectives_.size())) {
    if (place < members_.size()) {
      kept.push_back(std::move(members_[place]));
    } else {
      const SliceMember& member = front.members[place - members_.size()];
      kept.push_back({member.costs, member.parts, std::string(front.cells.at(member.parts.pack)),
                      std::string(member.text)});
    }
  }
  members_ = std::move(kept);
}

void FrontMerge::add(const document::Source& source, document::Diagnostics& diagnostics) {
  const auto front = read_slice_front(source, diagnostics);
  if (!front || !agrees(*front, source, diagnostics)) return;
  if (of_ == 0) take_head(*front);
  indices_.emplace(front->slice.index, source.name);
  if (!front->exact) stopped_.push_back(source.name);
  take_account(*front);
  take_members(*front);
}

std::string FrontMerge::missing() const {
  std::string text;
  std::size_t next = 1;
  const auto name_gap = [&](std::size_t end) {
    if (next < end) {
      text += (text.empty() ? "" : ", ") + std::to_string(next);
      if (next + 1 < end) text += (next + 2 < end ? " to " : ", ") + std::to_string(end - 1);
    }
    next = end + 1;
  };
  for (const auto& [index, file] : indices_) name_gap(index);
  name_gap(of_ + 1);
  return text;
}

void FrontMerge::sort_members() {
  std::ranges::sort(members_, [](const Member& a, const Member& b) {
    return a.costs != b.costs ? a.costs < b.costs : a.parts < b.parts;
  });
}

std::vector<std::string_view> FrontMerge::defaults() const {
  std::vector<std::string_view> list(requirement_defaults_.begin(), requirement_defaults_.end());
  PartsInUse in_use;
  for (const Member& member : members_) in_use.add(member.parts, member.cell);
  for (const auto& [key, entry] : part_defaults_) {
    if (in_use.has_default(key)) list.push_back(entry);
  }
  return list;
}

void FrontMerge::write_json(std::ostream& out) {
  sort_members();
  JsonWriter json(out);
  json.begin_object();
  json.member("sprocketry", version_);
  json.key("title");
  json.raw(title_json_);
  json.member("exact", exact());
  json.key("defaults");
  json.begin_list();
  for (const std::string_view entry : defaults()) json.raw(entry);
  json.end_list();
  write_count(json, account_, exact(), {members_.size()});
  json.key("objectives");
  json.raw(objectives_json_);
  json.key("front");
  json.begin_list();
  for (const Member& member : members_) json.raw(member.text);
  json.end_list();
  json.end_object();
  json.end_line();
}

void FrontMerge::write_text(std::ostream& out, Colour colour) {
  sort_members();
  Count rejected = 0;
  for (const Count count : account_.rejected) rejected += count;
  constexpr std::size_t kLongestTitle = 200;
  const std::string title = document::printable(title_, kLongestTitle);
  out << bold(title.empty() ? "Result" : title, colour) << "\n\n"
      << grouped(account_.combinations) << " combinations in " << grouped(of_)
      << " slices: " << grouped(rejected) << " rejected, ";
  if (account_.pruned > 0) out << grouped(account_.pruned) << " shown to be worse, ";
  out << grouped(account_.evaluated) << " evaluated,\n"
      << grouped(members_.size()) << " on the front, of " << grouped(offered_)
      << " on those of the slices.\n";
  if (!exact()) {
    out << "Slices were stopped before their end: this is the best so far, not the front.\n";
  }
  if (members_.empty()) {
    out << "\nNo combination meets every rule and demand.\n";
    return;
  }
  std::vector<std::vector<std::string>> rows;
  for (std::size_t k = 0; k < objectives_.size(); ++k) {
    const SliceObjective& objective = objectives_[k];
    const auto best = std::ranges::min_element(members_, {}, [&](const Member& member) {
      return std::tie(member.costs[k], member.costs, member.parts);
    });
    const double value = objective.lower_is_better ? best->costs[k] : -best->costs[k];
    rows.push_back({objective.name, rounded(value, 1), objective.unit, design_id(best->parts)});
  }
  out << '\n'
      << table({{"best", false}, {"value"}, {"unit", false}, {"design", false}}, rows, "", colour);
}

}  // namespace sprocketry::report
