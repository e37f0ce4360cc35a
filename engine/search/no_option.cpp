#include "search/no_option.hpp"

#include <algorithm>
#include <cmath>

#include "parts/values.hpp"

namespace sprocketry::search {
namespace {

constexpr std::string_view kUnderChoose = "Write under `choose`, for example";

// Series counts that make the trade's 48 V and 72 V of a cell.
std::string usual_series(const parts::CellPart& cell) {
  std::string text;
  for (const double voltage : {48.0, 72.0}) {
    const long series = std::max(1L, std::lround(voltage / cell.model.nominal_voltage));
    text += (text.empty() ? "" : ", ") + std::to_string(series);
  }
  return '[' + text + ']';
}

NoOption no_pack(const spec::Job& job) {
  const spec::PackChoice& choice = job.requirement.choose.pack;
  const parts::Catalogue& catalogue = job.catalogue;
  const bool generates = choice.cells || choice.series || choice.parallel;
  if (choice.voltage_classes && (generates || !catalogue.packs.empty())) {
    return {"pack", "none has a nominal voltage within a class of `choose.pack.voltage`",
            "Name other classes there, or other counts under `choose.pack.series`.", ""};
  }
  return {"pack",
          "the parts files have no ready-made pack, and `choose` does not say how many cells to "
          "put in series and in parallel",
          std::string(kUnderChoose),
          "pack: {series: " + usual_series(catalogue.cells.front()) + ", parallel: [1]}"};
}

template <typename Family>
NoOption no_sprocket(std::string_view slot, const std::vector<Family>& families,
                     const std::optional<std::vector<std::string>>& chosen) {
  const std::string name(slot.substr(0, slot.find(' ')));
  std::string teeth;
  for (const Family& family : families) {
    if (chosen && std::ranges::find(*chosen, family.id) == chosen->end()) continue;
    teeth += (teeth.empty() ? "" : ", ") + family.id + " from " +
             std::to_string(family.teeth.front()) + " to " + std::to_string(family.teeth.back());
  }
  return {slot, "of those chosen none has a tooth count of `choose." + name + "_teeth`",
          "Write other counts there; there are: " + teeth + ".", ""};
}

}  // namespace

// Every parts list has an entry, of which `choose` can only name some: what can run out are the
// packs, which are made by choosing, and the tooth counts.
std::vector<NoOption> slots_without_option(const spec::Job& job, const Space& s) {
  const spec::Choice& choice = job.requirement.choose;
  std::vector<NoOption> none;
  if (s.packs.empty()) none.push_back(no_pack(job));
  if (s.fronts.empty()) {
    none.push_back(
        no_sprocket("front sprocket", job.catalogue.front_sprockets, choice.front_sprockets));
  }
  if (s.rears.empty()) {
    none.push_back(
        no_sprocket("rear sprocket", job.catalogue.rear_sprockets, choice.rear_sprockets));
  }
  return none;
}

std::string no_option_text(const spec::Job& job, const Space& space) {
  const std::vector<NoOption> none = slots_without_option(job, space);
  if (none.empty()) return "";
  std::string text;
  for (const NoOption& one : none) {
    text += (text.empty() ? "no option for: " : ", ") + std::string(one.slot);
  }
  for (const NoOption& one : none) {
    text += "\n" + std::string(one.slot) + ": " + one.why + ". " + one.where;
    if (!one.what.empty()) text += "\n  " + one.what;
  }
  return text;
}

}  // namespace sprocketry::search
