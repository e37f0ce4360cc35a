#include "report/parts_text.hpp"

#include <cmath>
#include <set>

#include "model/constants.hpp"
#include "parts/interchange.hpp"

namespace sprocketry::report {
namespace {

using parts::Catalogue;
using Rows = std::vector<std::vector<std::string>>;

std::string price(parts::Money money) {
  return rounded(static_cast<double>(money) / static_cast<double>(parts::kMoneyUnit), 2);
}

std::string millimetres(const std::optional<double>& length) {
  return length ? rounded(*length * 1000, 2) : "-";
}

std::string teeth(const std::vector<int>& counts) {
  if (counts.empty()) return "-";
  const bool run = counts.back() - counts.front() + 1 == static_cast<int>(counts.size());
  if (run && counts.size() > 1) {
    return std::to_string(counts.front()) + " to " + std::to_string(counts.back());
  }
  std::string text;
  for (const int count : counts) text += (text.empty() ? "" : " ") + std::to_string(count);
  return text;
}

void section(std::ostream& out, std::string_view title, const std::vector<Column>& columns,
             const Rows& rows, Colour colour) {
  if (rows.empty()) return;
  out << title << " (" << rows.size() << ")\n" << table(columns, rows, "  ", colour) << '\n';
}

void motors(std::ostream& out, const Catalogue& c, Colour colour) {
  Rows rows;
  for (const parts::MotorPart& m : c.motors) {
    const double kv = 30.0 / (model::kPi * m.model.torque_constant);
    rows.push_back(
        {m.id, m.model.kind == model::MotorKind::kBrushed ? "brushed" : "brushless", rounded(kv, 1),
         rounded(m.model.resistance * 1000, 1), rounded(m.model.max_voltage, 0),
         rounded(m.model.max_speed * 30 / model::kPi, 0), rounded(m.model.continuous_current, 0),
         rounded(m.model.peak_current, 0), m.shaft ? millimetres(m.shaft->diameter) : "-",
         rounded(m.mass, 1), price(m.price)});
  }
  section(out, "Motors",
          {{"id", false},
           {"kind", false},
           {"rpm/V"},
           {"mohm"},
           {"max V"},
           {"max rpm"},
           {"cont. A"},
           {"peak A"},
           {"shaft mm"},
           {"kg"},
           {"price"}},
          rows, colour);
}

void controllers(std::ostream& out, const Catalogue& c, Colour colour) {
  Rows rows;
  for (const parts::ControllerPart& k : c.controllers) {
    std::string drives = k.model.drives_brushed ? "brushed" : "";
    if (k.model.drives_brushless) drives += drives.empty() ? "brushless" : ", brushless";
    rows.push_back({k.id, drives, rounded(k.model.min_voltage, 0), rounded(k.model.max_voltage, 0),
                    rounded(k.model.battery_current, 0), rounded(k.model.motor_current, 0),
                    k.model.settable ? "yes" : "no", rounded(k.mass, 1), price(k.price)});
  }
  section(out, "Controllers",
          {{"id", false},
           {"drives", false},
           {"min V"},
           {"max V"},
           {"battery A"},
           {"motor A"},
           {"settable", false},
           {"kg"},
           {"price"}},
          rows, colour);
}

void cells(std::ostream& out, const Catalogue& c, Colour colour) {
  Rows rows;
  for (const parts::CellPart& cell : c.cells) {
    rows.push_back({cell.id, cell.chemistry, rounded(cell.model.capacity / 3600, 1),
                    rounded(cell.model.nominal_voltage, 2), rounded(cell.model.full_voltage, 2),
                    rounded(cell.model.empty_voltage, 2), rounded(cell.model.resistance * 1000, 2),
                    rounded(cell.model.continuous_current, 0), rounded(cell.model.peak_current, 0),
                    rounded(cell.mass, 2), price(cell.price)});
  }
  section(out, "Cells",
          {{"id", false},
           {"chemistry", false},
           {"Ah"},
           {"nominal V"},
           {"full V"},
           {"empty V"},
           {"mohm"},
           {"cont. A"},
           {"peak A"},
           {"kg"},
           {"price"}},
          rows, colour);
  Rows packs;
  for (const parts::NamedPack& pack : c.packs) {
    packs.push_back(
        {pack.id, pack.cell_id, std::to_string(pack.series), std::to_string(pack.parallel)});
  }
  section(out, "Named packs", {{"id", false}, {"cell", false}, {"series"}, {"parallel"}}, packs,
          colour);
}

void chargers(std::ostream& out, const Catalogue& c, Colour colour) {
  Rows rows;
  for (const parts::ChargerPart& h : c.chargers) {
    std::string chemistries;
    for (const std::string& name : h.chemistries) {
      chemistries += (chemistries.empty() ? "" : ", ") + name;
    }
    rows.push_back({h.id, chemistries, rounded(h.min_full_voltage, 1),
                    rounded(h.max_full_voltage, 1), rounded(h.current, 1), h.carried ? "yes" : "no",
                    price(h.price)});
  }
  section(out, "Chargers",
          {{"id", false},
           {"chemistries", false},
           {"from V"},
           {"to V"},
           {"A"},
           {"carried", false},
           {"price"}},
          rows, colour);
}

void drives(std::ostream& out, const Catalogue& c, Colour colour) {
  Rows chains;
  for (const parts::ChainPart& k : c.chains) {
    chains.push_back({k.id, k.size, rounded(k.model.pitch * 1000, 3),
                      rounded(k.model.tensile_strength / 1000, 1),
                      rounded(k.model.mass_per_length, 2), rounded(k.model.fixed_loss * 100, 1),
                      k.box_links ? std::to_string(k.box_links) : "by the link", price(k.price)});
  }
  section(out, "Chains",
          {{"id", false},
           {"size", false},
           {"pitch mm"},
           {"strength kN"},
           {"kg/m"},
           {"loss %"},
           {"box of links"},
           {"price"}},
          chains, colour);
  Rows fronts;
  for (const parts::FrontSprocketFamily& f : c.front_sprockets) {
    fronts.push_back({f.id, f.size, teeth(f.teeth), millimetres(f.bore), millimetres(f.key),
                      millimetres(f.hub_diameter), price(f.price.at(f.teeth.front())),
                      price(f.fabrication)});
  }
  section(out, "Front sprockets",
          {{"id", false},
           {"size", false},
           {"teeth"},
           {"bore mm"},
           {"key mm"},
           {"hub mm"},
           {"price from"},
           {"fabrication"}},
          fronts, colour);
  Rows rears;
  for (const parts::RearSprocketFamily& r : c.rear_sprockets) {
    rears.push_back({r.id, r.size, teeth(r.teeth), millimetres(r.bolt_circle),
                     r.bolts ? std::to_string(*r.bolts) : "-", price(r.price.at(r.teeth.front()))});
  }
  section(
      out, "Rear sprockets",
      {{"id", false}, {"size", false}, {"teeth"}, {"bolt circle mm"}, {"bolts"}, {"price from"}},
      rears, colour);
}

// Chains against the sizes of the sprockets: what runs, and what only seems to. Sizes of another
// pitch go without saying.
void interchange(std::ostream& out, const Catalogue& c, Colour colour) {
  std::set<std::string> sizes;
  for (const parts::FrontSprocketFamily& f : c.front_sprockets) sizes.insert(f.size);
  for (const parts::RearSprocketFamily& r : c.rear_sprockets) sizes.insert(r.size);
  Rows rows;
  for (const parts::ChainPart& chain : c.chains) {
    for (const std::string& size : sizes) {
      const auto verdict = parts::interchange(chain, size);
      if (chain.size == size && verdict == parts::Interchange::kStandard) continue;
      const auto cut = parts::chain_format(size);
      constexpr double kSamePitch = 1e-4;  // m
      if (!cut || std::abs(cut->pitch - chain.model.pitch) > kSamePitch) continue;
      rows.push_back({chain.id, size,
                      verdict == parts::Interchange::kStandard      ? "to standard"
                      : verdict == parts::Interchange::kNotStandard ? "caution"
                                                                    : "no",
                      parts::interchange_reason(chain, size)});
    }
  }
  section(out, "Chains on sprockets of other sizes",
          {{"chain", false}, {"sprocket", false}, {"runs", false}, {"why", false}}, rows, colour);
}

void extras(std::ostream& out, const Catalogue& c, Colour colour) {
  Rows rows;
  const auto interval = [](const parts::Interval& i, std::string_view unit) -> std::string {
    if (!i.min && !i.max) return "";
    std::string text = i.min ? "from " + rounded(*i.min, 1) : "";
    if (i.max) text += (text.empty() ? "to " : " to ") + rounded(*i.max, 1);
    return text + ' ' + std::string(unit);
  };
  for (const parts::Extra& e : c.extras) {
    rows.push_back({e.id, interval(e.full_voltage, "V"), interval(e.nominal_voltage, "V"),
                    interval(e.battery_current, "A"), rounded(e.mass, 1), price(e.price)});
  }
  section(out, "Extras",
          {{"id", false},
           {"full-charge voltage", false},
           {"nominal voltage", false},
           {"battery current", false},
           {"kg"},
           {"price"}},
          rows, colour);
}

void tyres(std::ostream& out, const Catalogue& c, Colour colour) {
  Rows rows;
  for (const parts::Tyre& t : c.tyres) rows.push_back({t.size, rounded(t.rollout * 1000, 0)});
  section(out, "Tyres", {{"size", false}, {"roll-out mm"}}, rows, colour);
}

}  // namespace

void write_parts_text(std::ostream& out, const Catalogue& catalogue, Colour colour) {
  motors(out, catalogue, colour);
  controllers(out, catalogue, colour);
  cells(out, catalogue, colour);
  chargers(out, catalogue, colour);
  drives(out, catalogue, colour);
  interchange(out, catalogue, colour);
  extras(out, catalogue, colour);
  tyres(out, catalogue, colour);
}

}  // namespace sprocketry::report
