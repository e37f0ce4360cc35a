#include "report/front_text.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

#include "parts/values.hpp"
#include "report/cautions.hpp"
#include "report/design_text.hpp"
#include "report/display.hpp"
#include "report/front_sample.hpp"
#include "report/front_table.hpp"
#include "report/no_option_text.hpp"

namespace sprocketry::report {
namespace {

void write_account(std::ostream& out, const Result& r, Colour colour) {
  const search::Account& account = r.front.account;
  search::Count rejected = 0;
  for (const search::Count count : account.rejected) rejected += count;
  const std::string& title = r.job.requirement.title;
  out << bold(title.empty() ? "Result" : title, colour) << "\n\n"
      << grouped(account.combinations) << " combinations: " << grouped(rejected) << " rejected, ";
  if (account.pruned > 0) out << grouped(account.pruned) << " shown to be worse, ";
  out << grouped(account.evaluated) << " evaluated, " << grouped(whole_front(r.front))
      << " on the front";
  if (r.front.near) {
    out << ", " << grouped(r.front.near->beyond) << " more within "
        << parts::number_text(100 * r.front.near->share) << " % of it";
  }
  out << ".\n";
  if (!r.front.exact) {
    out << "Stopped before the end: this is the best so far, not the front. Of the combinations "
           "that "
           "fit\ntogether "
        << rounded(settled_percent(account), 1) << " % are settled, " << grouped(account.unsettled)
        << " are not.\n";
  }
}

void write_rejections(std::ostream& out, const Result& r, std::size_t most) {
  const auto& rejected = r.front.account.rejected;
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < rejected.size(); ++i) {
    if (rejected[i] > 0) order.push_back(i);
  }
  std::ranges::stable_sort(order,
                           [&](std::size_t a, std::size_t b) { return rejected[a] > rejected[b]; });
  order.resize(std::min(most, order.size()));
  std::vector<std::vector<std::string>> rows;
  for (const std::size_t i : order) {
    const rules::Rule& rule = rules::rule_table()[i];
    rows.push_back({grouped(rejected[i]), std::string(rule.name), std::string(rule.explanation)});
  }
  if (rows.empty()) return;
  out << table({{"rejected"}, {"rule", false}, {"what must hold", false}}, rows, "  ",
               Colour::kNever);
}

// "Each of the other 960 on the front, and whatever else meets the demands, is matched by one of
// them to within 0.1 s in 0-50 km/h, 1 km in range, 10 EUR in price."
std::string resolution_text(const Result& r) {
  std::string text = "Whatever else meets the demands, the other " +
                     grouped(whole_front(r.front) - r.front.members.size()) +
                     " on the front too, one of them matches\nto within ";
  for (std::size_t k = 0; k < r.setup.objectives.size(); ++k) {
    const Shown as = shown(*r.setup.objectives[k], r.job.requirement);
    if (k > 0) text += ", ";
    text += parts::number_text(r.front.coarseness->resolution[k] * as.factor) + ' ' + as.unit +
            " in " + as.label;
  }
  return text + '.';
}

std::string sampling_text(const search::Sampling& s) {
  return wrapped(
      "Confidence is the share of " + grouped(s.samples) + " samples of " + grouped(s.inputs) +
          " uncertain inputs in which every rule and demand holds. `robust --pick` shows "
          "for one design what breaks and what to measure first.",
      "");
}

void write_members(std::ostream& out, const Result& r, bool all, Colour colour) {
  constexpr std::size_t kMostShown = 24;
  const std::vector<std::size_t> members =
      spread(r, all ? std::numeric_limits<std::size_t>::max() : kMostShown);
  const std::size_t size = r.front.members.size();
  if (size == 1) {
    out << "One set of parts is at least as good as every other in every aim:\n\n";
  } else {
    if (r.front.near) {
      out << "No set of parts is better than one of these by more than "
          << parts::number_text(100 * r.front.near->share) << " % in every aim.\n";
    } else {
      out << "None of these " << grouped(size)
          << " sets of parts can be bettered in one aim without losing in another.\n";
    }
    if (r.front.coarseness) out << resolution_text(r) << '\n';
    if (members.size() < size) {
      out << members.size() << " of " << grouped(size) << " shown; --all shows all.\n";
    }
    out << '\n';
  }
  if (r.front.sampling) out << sampling_text(*r.front.sampling) << '\n';
  const FrontTable shown = front_table(r, members);
  out << table(shown.columns, shown.rows, "", colour);
  if (!shown.shared.empty()) out << wrapped("All with " + shown.shared + '.', "");
}

void write_detail(std::ostream& out, const Result& r, Colour colour) {
  const std::size_t middle = balanced(r);
  const search::Design design = search::evaluate_design(r.setup, r.space, r.front.members[middle]);
  out << '\n'
      << bold("A balanced one: number " + std::to_string(middle + 1), colour)
      << ", which gives away least on all aims together\n";
  write_design_lines(out, design, r.job);
  out << "  all of it      evaluate, with --pick " << rules::design_id(design.parts) << '\n';
}

void write_defaults_text(std::ostream& out, const Result& r) {
  std::string text;
  for (const parts::Default& entry : r.job.requirement.defaults) {
    text += (text.empty() ? "" : "; ") + entry.key + ' ' + entry.value;
  }
  if (text.empty()) return;
  out << '\n' << wrapped("Assumed, since not stated: " + text + ". (Sources: --format json.)", "");
}

void write_nothing(std::ostream& out, const Result& r, Colour colour) {
  out << bold("No combination meets every rule and demand.", colour);
  if (r.front.account.combinations == 0) {
    out << '\n';
    write_no_option(out, r.job, r.space);
    return;
  }
  out << " Each is counted under the first rule that\nit breaks:\n\n";
  write_rejections(out, r, std::numeric_limits<std::size_t>::max());
  out << "\n`search --help` lists the rules in their order. Ease the demand or add the part that "
         "the "
         "last rules\nwith a large count ask for; `evaluate` shows every margin of one "
         "combination.\n";
}

}  // namespace

void write_front_text(std::ostream& out, const Result& r, bool all, Colour colour) {
  constexpr std::size_t kFewRules = 4;
  write_account(out, r, colour);
  if (r.front.members.empty() && !r.front.exact) {
    out << "Nothing that meets every rule and demand was found until then.\n";
    return;
  }
  if (r.front.members.empty()) {
    write_nothing(out, r, colour);
    return;
  }
  write_rejections(out, r, kFewRules);
  out << '\n';
  write_members(out, r, all, colour);
  write_detail(out, r, colour);
  write_defaults_text(out, r);
  out << '\n';
  write_cautions(out, r.job.requirement, colour);
}

}  // namespace sprocketry::report
