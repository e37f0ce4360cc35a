#include "search/upgrade.hpp"

#include <algorithm>

#include "parts/values.hpp"

namespace sprocketry::search {
namespace {

std::string with_teeth(const std::string& family, int teeth) {
  return family + ':' + std::to_string(teeth);
}

std::string charger_name(const rules::Selection& s) {
  return s.charger == nullptr ? std::string(rules::kNoCharger) : s.charger->id;
}

// One option of every slot of a combination.
Space alone(const Space& space, const Combination& c) {
  Space one = space;
  one.motors = {space.motors[c.motor]};
  one.controllers = {space.controllers[c.controller]};
  one.packs = {space.packs[c.pack]};
  one.chargers = {space.chargers[c.charger]};
  one.chains = {space.chains[c.chain]};
  one.fronts = {space.fronts[c.front]};
  one.rears = {space.rears[c.rear]};
  return one;
}

// The running parts as options.
Space running_space(const Running& running) {
  const rules::Selection& s = running.design.parts;
  Space space;
  space.motors = {{s.motor, 0}};
  space.controllers = {{s.controller, 0}};
  space.packs = {{*s.pack, 0}};
  space.chargers = {{s.charger, 0, s.charger && s.charger->carried ? s.charger->mass : 0.0}};
  space.chains = {{s.chain, true}};
  space.fronts = {{s.front, s.front_teeth, 0, s.front->mass.at(s.front_teeth)}};
  space.rears = {{s.rear, s.rear_teeth, 0, s.rear->mass.at(s.rear_teeth)}};
  return space;
}

class Comparer {
 public:
  Comparer(const Running& running, const Side& side, std::size_t member)
      : side_(side),
        then_(running.design),
        now_(side.design(member)),
        bike_then_(running.job->requirement.bike),
        old_(running_space(running)),
        new_(alone(side.space, side.front.members[member])) {
    result_.design = rules::design_id(now_.parts);
    result_.price = now_.metrics.price;
  }

  Upgrade run() {
    namespace slots = rules::slot;
    const rules::Selection& a = then_.parts;
    const rules::Selection& b = now_.parts;
    slot("motor", slots::kMotor, a.motor->id, b.motor->id, new_.motors[0].price, &Space::motors);
    slot("controller", slots::kController, a.controller->id, b.controller->id,
         new_.controllers[0].price, &Space::controllers);
    slot("pack", slots::kPack, a.pack->id, b.pack->id, new_.packs[0].price, &Space::packs);
    slot("charger", slots::kCharger, charger_name(a), charger_name(b), new_.chargers[0].price,
         &Space::chargers);
    chain(a, b);
    slot("front_sprocket", slots::kFront, with_teeth(a.front->id, a.front_teeth),
         with_teeth(b.front->id, b.front_teeth), new_.fronts[0].price, &Space::fronts);
    slot("rear_sprocket", slots::kRear, with_teeth(a.rear->id, a.rear_teeth),
         with_teeth(b.rear->id, b.rear_teeth), new_.rears[0].price, &Space::rears);
    misfits();
    clashes();
    primary();
    extras();
    return std::move(result_);
  }

 private:
  template <typename Option>
  void slot(const char* name, unsigned bit, const std::string& from, const std::string& to,
            Money price, std::vector<Option> Space::*options) {
    if (from == to) {
      keep(std::string(name) + ' ' + to, bit);
      return;
    }
    result_.exchanged.push_back({name, from, to, price, {}, {}, {}});
    new_bits_.push_back(bit);
    ask_rules(options, result_.exchanged.back());
  }

  // What rejects the new design with the old part in this slot.
  template <typename Option>
  void ask_rules(std::vector<Option> Space::*options, Exchanged& exchanged) const {
    Space space = new_;
    space.*options = old_.*options;
    if (space.chargers[0].part == nullptr) return;
    const auto anyway = now_.rejected_by();
    for (const std::string_view name : evaluate_design(side_.setup, space, {}).rejected_by()) {
      if (std::ranges::find(anyway, name) != anyway.end()) continue;
      const bool demand = rule_named(name).stage == rules::Stage::kDemand;
      (demand ? exchanged.misses : exchanged.no_longer_fits).emplace_back(name);
    }
  }

  static const rules::Rule& rule_named(std::string_view name) {
    return *std::ranges::find(rules::rule_table(), name, &rules::Rule::name);
  }

  void keep(std::string part, unsigned bit) {
    result_.kept.push_back(part);
    stays_.push_back({std::move(part), bit});
  }

  // Of the rules on a few parts that reject the new design, those on each part that stays.
  void misfits() {
    for (const auto& [part, bit] : stays_) {
      Misfit misfit{part, {}};
      for (const std::string_view name : now_.rejected_by()) {
        const rules::Rule& rule = rule_named(name);
        const bool on_parts =
            rule.stage == rules::Stage::kElectrical || rule.stage == rules::Stage::kFit;
        if (on_parts && (rule.reads & bit) != 0) misfit.rules.emplace_back(name);
      }
      if (!misfit.rules.empty()) result_.misfits.push_back(std::move(misfit));
    }
  }

  // The slots that a rule reads, of a rule on a few parts.
  static unsigned slots_of(std::string_view name) {
    const auto rule = std::ranges::find(rules::rule_table(), name, &rules::Rule::name);
    if (rule == rules::rule_table().end()) return 0;
    const bool on_parts =
        rule->stage == rules::Stage::kElectrical || rule->stage == rules::Stage::kFit;
    return on_parts ? rule->reads : 0;
  }

  // An old part is not to blame for what only lies between it and other new parts.
  void clashes() {
    for (std::size_t i = 0; i < new_bits_.size(); ++i) {
      Exchanged& exchanged = result_.exchanged[i];
      unsigned others = 0;
      for (const unsigned bit : new_bits_) others |= bit;
      others &= ~new_bits_[i];
      unsigned with = 0;
      const bool all = std::ranges::all_of(exchanged.no_longer_fits, [&](const std::string& name) {
        with |= slots_of(name) & others;
        return (slots_of(name) & others) != 0;
      });
      if (!all) continue;
      for (std::size_t k = 0; k < new_bits_.size(); ++k) {
        if ((new_bits_[k] & with) != 0) exchanged.clashes_with.push_back(result_.exchanged[k].slot);
      }
    }
  }

  // A chain of the same kind stays when it is long enough.
  void chain(const rules::Selection& a, const rules::Selection& b) {
    const auto links = [](const Design& d) { return d.chain.fit ? d.chain.fit->links : 0; };
    if (a.chain->id == b.chain->id && links(now_) <= links(then_)) {
      keep("chain " + b.chain->id, rules::slot::kChain);
      return;
    }
    const auto text = [&](const Design& d) {
      return d.parts.chain->id + ", " + std::to_string(links(d)) + " links";
    };
    const Money price = chain_price(new_.chains[0], links(now_));
    new_bits_.push_back(rules::slot::kChain);
    Exchanged exchanged{"chain", text(then_), text(now_), price, {}, {}, {}};
    if (a.chain->id == b.chain->id) {
      exchanged.no_longer_fits.emplace_back("too short");
    } else {
      ask_rules(&Space::chains, exchanged);
    }
    result_.exchanged.push_back(std::move(exchanged));
  }

  // The stage before the chain belongs to the bike, not to the parts.
  void primary() {
    const spec::Bike& bike_now = side_.job->requirement.bike;
    if (same_primary(bike_then_, bike_now)) return;
    const auto text = [](const spec::Bike& bike) {
      return bike.primary ? "ratio " + parts::number_text(bike.primary->ratio) : "none";
    };
    const Money price = bike_now.primary ? bike_now.primary->price : 0;
    result_.exchanged.push_back({"primary", text(bike_then_), text(bike_now), price, {}, {}, {}});
  }

  // Of an extra's conditions the first that a design does not meet, or (`met`) the first it meets.
  static std::string condition(const parts::Extra& extra, const Design& d, bool met) {
    const model::Pack& pack = d.parts.pack->model;
    struct Asked {
      const char* name;
      const parts::Interval& interval;
      double value;
      const char* unit;
    };
    for (const Asked& asked :
         {Asked{"full-charge voltage", extra.full_voltage, pack.full_voltage, " V"},
          Asked{"nominal voltage", extra.nominal_voltage, pack.nominal_voltage, " V"},
          Asked{"battery current", extra.battery_current, d.settings.battery_current, " A"}}) {
      if (!asked.interval.min && !asked.interval.max) continue;
      if (asked.interval.contains(asked.value) != met) continue;
      std::string text = std::string(asked.name) + ' ' + parts::number_text(asked.value) +
                         asked.unit + ", it is for ";
      if (asked.interval.min) text += parts::number_text(*asked.interval.min) + asked.unit;
      if (asked.interval.min && !asked.interval.max) text += " and more";
      if (asked.interval.max) {
        text += (asked.interval.min ? " to " : "at most ") +
                parts::number_text(*asked.interval.max) + asked.unit;
      }
      return text;
    }
    return met ? "always needed" : "not in the parts files of the other side";
  }

  void extras() {
    const auto has = [](const Design& d, const std::string& id) {
      return std::ranges::any_of(d.extras, [&](const auto* extra) { return extra->id == id; });
    };
    for (const ExtraOption& option : side_.space.extras) {
      const parts::Extra& extra = *option.part;
      if (!has(now_, extra.id)) continue;
      if (has(then_, extra.id)) {
        result_.kept.push_back("extra " + extra.id);
      } else {
        result_.bought.push_back({extra.id, option.price, condition(extra, now_, true)});
      }
    }
    for (const parts::Extra* extra : then_.extras) {
      if (!has(now_, extra->id)) {
        result_.dropped.push_back({extra->id, 0, condition(*extra, now_, false)});
      }
    }
  }

  const Side& side_;
  const Design& then_;
  const Design now_;
  const spec::Bike& bike_then_;
  const Space old_;
  const Space new_;
  // Parts that stay, with the bit of their slot.
  struct Kept {
    std::string part;
    unsigned bit;
  };
  std::vector<Kept> stays_;
  std::vector<unsigned> new_bits_;  // of the exchanged ones, in their order
  Upgrade result_;
};

}  // namespace

Upgrade upgrade_to(const Running& running, const Side& side, std::size_t member) {
  return Comparer(running, side, member).run();
}

}  // namespace sprocketry::search
