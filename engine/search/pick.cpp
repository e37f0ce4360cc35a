#include "search/pick.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <limits>
#include <optional>
#include <set>

#include "document/diagnostics.hpp"
#include "search/compatible.hpp"
#include "search/no_option.hpp"

namespace sprocketry::search {
namespace {

constexpr std::array<std::string_view, 9> kSlots = {
    "motor",          "controller",  "pack",          "charger",   "chain",
    "front_sprocket", "front_teeth", "rear_sprocket", "rear_teeth"};
enum Slot { kMotor, kController, kPack, kCharger, kChain, kFront, kFrontTeeth, kRear, kRearTeeth };

using Wanted = std::array<std::optional<std::string>, kSlots.size()>;
template <typename T>
using Outcome = tl::expected<T, std::string>;

std::string in_quotes(std::string_view text) { return '\'' + std::string(text) + '\''; }

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& known) {
  const auto near = document::nearest(word, known);
  return near ? "; did you mean " + in_quotes(*near) + "?" : "";
}

std::optional<int> number(const std::string& text) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

Outcome<void> set(Wanted& wanted, std::size_t slot, std::string value) {
  if (value.empty()) {
    return tl::unexpected(std::string(kSlots[slot]) + "= names nothing");
  }
  const bool teeth = slot == kFrontTeeth || slot == kRearTeeth;
  if (teeth && !number(value)) {
    return tl::unexpected(std::string(kSlots[slot]) + '=' + value +
                          ": a tooth count is a whole number, for example 12");
  }
  if (wanted[slot] && *wanted[slot] != value) {
    return tl::unexpected("names two options for " + std::string(kSlots[slot]) + ": " +
                          in_quotes(*wanted[slot]) + " and " + in_quotes(value));
  }
  wanted[slot] = std::move(value);
  return {};
}

// "motor/controller/pack/charger/chain/front:12/rear:54"
Outcome<void> set_design_id(Wanted& wanted, std::string_view id) {
  std::vector<std::string> fields(1);
  for (const char c : id) {
    if (c == '/') {
      fields.emplace_back();
    } else {
      fields.back() += c;
    }
  }
  const auto malformed =
      tl::unexpected(std::string(id) +
                     ": write SLOT=ID (for example motor=ID) or a design's id, "
                     "motor/controller/pack/charger/chain/front:TEETH/rear:TEETH");
  if (fields.size() != 7) return malformed;
  for (const std::size_t slot : {std::size_t{kFront}, std::size_t{kRear}}) {
    const std::size_t field = slot == kFront ? 5 : 6;
    const std::size_t colon = fields[field].rfind(':');
    if (colon == std::string::npos) return malformed;
    auto teeth = set(wanted, slot + 1, fields[field].substr(colon + 1));
    if (!teeth) return teeth;
    fields[field].resize(colon);
  }
  constexpr std::array<std::size_t, 7> kOrder = {kMotor, kController, kPack, kCharger,
                                                 kChain, kFront,      kRear};
  for (std::size_t i = 0; i < kOrder.size(); ++i) {
    auto done = set(wanted, kOrder[i], fields[i]);
    if (!done) return done;
  }
  return {};
}

Outcome<Wanted> parse(const std::vector<std::string>& picks) {
  Wanted wanted;
  for (const std::string& text : picks) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos) {
      if (auto done = set_design_id(wanted, text); !done) return tl::unexpected(done.error());
      continue;
    }
    const std::string name = text.substr(0, equals);
    const auto slot = std::ranges::find(kSlots, name);
    if (slot == kSlots.end()) {
      return tl::unexpected(text + ": there is no slot " + in_quotes(name) +
                            did_you_mean(name, {kSlots.begin(), kSlots.end()}));
    }
    auto done =
        set(wanted, static_cast<std::size_t>(slot - kSlots.begin()), text.substr(equals + 1));
    if (!done) return tl::unexpected(done.error());
  }
  return wanted;
}

// Keeps the options of one slot that the pick allows. Options come from `whole` when the slot was
// picked, else from `chosen` as they are. Sets `outside` when `chosen` has none of what was picked.
template <typename Option, typename Matches>
Outcome<std::vector<Option>> keep(const std::vector<Option>& chosen,
                                  const std::vector<Option>& whole, bool picked,
                                  const Matches& matches, const std::string& what, bool& outside,
                                  const std::vector<std::string_view>& names) {
  if (!picked) return chosen;
  std::vector<Option> kept;
  std::ranges::copy_if(chosen, std::back_inserter(kept), matches);
  if (!kept.empty()) return kept;
  std::ranges::copy_if(whole, std::back_inserter(kept), matches);
  if (kept.empty()) {
    const std::string word = what.substr(what.find(' ') + 1);
    return tl::unexpected("the catalogue has no " + what + did_you_mean(word, names));
  }
  outside = true;
  return kept;
}

template <typename Option>
std::vector<std::string_view> names_of(const std::vector<Option>& options) {
  std::vector<std::string_view> names;
  names.reserve(options.size());
  for (const Option& option : options) names.push_back(id_of(option));
  return names;
}

template <typename Option>
Outcome<void> narrow(std::vector<Option>& chosen, const std::vector<Option>& whole,
                     const std::optional<std::string>& id, std::string_view what, bool& outside) {
  auto kept = keep(
      chosen, whole, id.has_value(), [&](const Option& o) { return id_of(o) == *id; },
      std::string(what) + ' ' + id.value_or(""), outside, names_of(whole));
  if (!kept) return tl::unexpected(kept.error());
  chosen = std::move(*kept);
  return {};
}

// "; there are 48 to 60", of one family or of all.
template <typename Option>
std::string teeth_on_sale(const std::vector<Option>& whole, const std::optional<std::string>& id) {
  int least = std::numeric_limits<int>::max();
  int most = 0;
  for (const Option& option : whole) {
    if (id && id_of(option) != *id) continue;
    least = std::min(least, option.teeth);
    most = std::max(most, option.teeth);
  }
  if (most == 0) return "";
  return "; there are " + std::to_string(least) + " to " + std::to_string(most);
}

template <typename Option>
Outcome<void> narrow_sprocket(std::vector<Option>& chosen, const std::vector<Option>& whole,
                              const std::optional<std::string>& id,
                              const std::optional<std::string>& teeth, std::string_view what,
                              bool& outside) {
  const bool known =
      !id || std::ranges::any_of(whole, [&](const Option& o) { return id_of(o) == *id; });
  const bool by_teeth = teeth && known;
  auto kept = keep(
      chosen, whole, id || teeth,
      [&](const Option& o) {
        return (!id || id_of(o) == *id) && (!teeth || o.teeth == *number(*teeth));
      },
      std::string(what) + ' ' + id.value_or("family") +
          (by_teeth ? " with " + *teeth + " teeth" : ""),
      outside, by_teeth ? std::vector<std::string_view>{} : names_of(whole));
  if (!kept) return tl::unexpected(kept.error() + (by_teeth ? teeth_on_sale(whole, id) : ""));
  chosen = std::move(*kept);
  return {};
}

Outcome<Picked> narrowed(const spec::Job& job, const Wanted& w) {
  Picked p;
  p.space = make_space(job);
  const Space whole = whole_catalogue(job, w[kPack]);
  bool& out = p.outside_choose;
  Outcome<void> done;
  const auto step = [&](Outcome<void> result) {
    if (done) done = std::move(result);
  };
  step(narrow(p.space.motors, whole.motors, w[kMotor], "motor", out));
  step(narrow(p.space.controllers, whole.controllers, w[kController], "controller", out));
  step(narrow(p.space.packs, whole.packs, w[kPack], "pack", out));
  step(narrow(p.space.chargers, whole.chargers, w[kCharger], "charger", out));
  step(narrow(p.space.chains, whole.chains, w[kChain], "chain", out));
  step(narrow_sprocket(p.space.fronts, whole.fronts, w[kFront], w[kFrontTeeth], "front_sprocket",
                       out));
  step(narrow_sprocket(p.space.rears, whole.rears, w[kRear], w[kRearTeeth], "rear_sprocket", out));
  if (!done) return tl::unexpected(done.error());
  return p;
}

// Which options of each slot still occur in a combination that passes the pairwise rules.
struct Fitting {
  std::array<std::set<std::size_t>, 7> options;
};

Fitting fitting(const Compatible& compatible, const Space& space) {
  Fitting f;
  for (const LevelOption& level : list_levels(compatible, space)) {
    const auto& drives = compatible.motor_drives[level.motor];
    const auto& chargers = compatible.grid.chargers(level.pack);
    f.options[0].insert(level.motor);
    f.options[1].insert(level.controller);
    f.options[2].insert(level.pack);
    f.options[3].insert(chargers.begin(), chargers.end());
    for (const std::uint32_t d : drives) {
      f.options[4].insert(compatible.drives[d].chain);
      f.options[5].insert(compatible.drives[d].front);
      f.options[6].insert(compatible.drives[d].rear);
    }
  }
  return f;
}

std::string option_name(const Space& space, std::size_t slot, std::size_t i) {
  switch (slot) {
    case 0:
      return name_of(space.motors[i]);
    case 1:
      return name_of(space.controllers[i]);
    case 2:
      return name_of(space.packs[i]);
    case 3:
      return name_of(space.chargers[i]);
    case 4:
      return name_of(space.chains[i]);
    case 5:
      return name_of(space.fronts[i]);
    default:
      return name_of(space.rears[i]);
  }
}

std::string open_slots(const Space& space, const Fitting& f) {
  constexpr std::array<std::string_view, 7> kNames = {
      "motor", "controller", "pack", "charger", "chain", "front_sprocket", "rear_sprocket"};
  constexpr std::size_t kMostListed = 12;
  std::string text = "more than one option fits; pick one for";
  for (std::size_t slot = 0; slot < kNames.size(); ++slot) {
    if (f.options[slot].size() < 2) continue;
    text += "\n  " + std::string(kNames[slot]) + ':';
    std::size_t listed = 0;
    for (const std::size_t i : f.options[slot]) {
      if (listed++ == kMostListed) break;
      text += ' ' + option_name(space, slot, i);
    }
    if (listed > kMostListed) {
      text += " ... (" + std::to_string(f.options[slot].size()) + " in all)";
    }
  }
  return text;
}

bool one_of_each(const Space& s) {
  return s.motors.size() == 1 && s.controllers.size() == 1 && s.packs.size() == 1 &&
         s.chargers.size() == 1 && s.chains.size() == 1 && s.fronts.size() == 1 &&
         s.rears.size() == 1;
}

Outcome<Picked> combined(const spec::Job& job, const Setup& setup, const Wanted& wanted) {
  Outcome<Picked> picked = narrowed(job, wanted);
  // A pick that names everything is evaluated even where a rule rejects it.
  if (!picked || one_of_each(picked->space)) return picked;
  const Fitting f = fitting(make_compatible(setup, picked->space), picked->space);
  if (f.options[0].empty()) {
    const std::string none = no_option_text(job, picked->space);
    if (!none.empty()) return tl::unexpected(none);
    return tl::unexpected<std::string>(
        "no option of the slots left out fits what was picked; pick every slot to see which rules "
        "reject it, or run 'search' to see the counts");
  }
  const bool settled =
      std::ranges::all_of(f.options, [](const auto& options) { return options.size() == 1; });
  if (!settled) return tl::unexpected(open_slots(picked->space, f));
  const auto only = [&](std::size_t slot) { return *f.options[slot].begin(); };
  picked->combination = {only(0), only(1), only(2), only(3), only(4), only(5), only(6)};
  return picked;
}

}  // namespace

tl::expected<Picked, std::string> pick(const spec::Job& job, const Setup& setup,
                                       const std::vector<std::string>& picks,
                                       std::string_view option) {
  const Outcome<Wanted> wanted = parse(picks);
  if (!wanted) return tl::unexpected(std::string(option) + ' ' + wanted.error());
  Outcome<Picked> picked = combined(job, setup, *wanted);
  if (!picked && !option.empty()) {
    return tl::unexpected(std::string(option) + ": " + picked.error());
  }
  return picked;
}

}  // namespace sprocketry::search
