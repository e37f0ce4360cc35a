#include "parts/interchange.hpp"

#include <array>
#include <cmath>

#include "model/sprocket.hpp"
#include "parts/standards.hpp"
#include "parts/values.hpp"

namespace sprocketry::parts {
namespace {

// How far a chain may be from the size that the sprocket is cut for. Common practice, no source;
// each lies between what published tables print for one size and what separates two sizes.
constexpr double kSamePitch = 0.005;     // of the pitch, as the loader takes it
constexpr double kSameRoller = 0.03e-3;  // m; 7.75 and 7.77 are both printed for 420
constexpr double kNearRoller = 0.20e-3;  // m; 41 and 40 differ by 0.15, 40 and 428 by 0.59
constexpr double kSameWidth = 0.25e-3;   // m; 428 is printed from 7.75 to 7.95
constexpr double kRounding = 1e-9;       // m; inch and millimetre spellings of one length

struct Comparison {
  bool unknown = false;
  bool pitch = true;
  double roller = 0;  // m, how much thicker the chain's is
  double width = 0;   // m, how much wider the chain is than the sprocket's own
  bool enters = true;
  double tooth = 0;  // m
  ChainFormat chain;
  ChainFormat sprocket;

  [[nodiscard]] bool near_roller() const { return std::abs(roller) <= kNearRoller + kRounding; }
  [[nodiscard]] bool same_roller() const { return std::abs(roller) <= kSameRoller + kRounding; }
  [[nodiscard]] bool same_width() const { return std::abs(width) <= kSameWidth + kRounding; }
};

Comparison compare(const ChainPart& part, std::string_view sprocket_size) {
  Comparison c;
  const auto sprocket = chain_format(sprocket_size);
  c.chain = chain_format(part);
  if (!sprocket || c.chain.roller_diameter <= 0 || c.chain.inner_width <= 0) {
    c.unknown = true;
    return c;
  }
  c.sprocket = *sprocket;
  c.pitch = std::abs(c.chain.pitch / c.sprocket.pitch - 1) <= kSamePitch;
  c.roller = c.chain.roller_diameter - c.sprocket.roller_diameter;
  c.width = c.chain.inner_width - c.sprocket.inner_width;
  c.tooth = model::tooth_thickness(c.sprocket.inner_width);
  c.enters = c.tooth <= c.chain.inner_width + kRounding;
  return c;
}

Interchange judge(const Comparison& c, const ChainPart& chain, std::string_view sprocket_size) {
  if (c.unknown) {
    return chain.size == sprocket_size ? Interchange::kStandard : Interchange::kRefused;
  }
  if (!c.pitch || !c.near_roller() || !c.enters) return Interchange::kRefused;
  return c.same_roller() && c.same_width() ? Interchange::kStandard : Interchange::kNotStandard;
}

std::string millimetres(double length) {
  return number_text(std::round(length * 1e5) / 100) + " mm";
}

std::string unknown_text(const ChainPart& chain, std::string_view size) {
  if (!chain_format(size)) {
    return "nothing is known of a sprocket of size " + std::string(size) +
           ", which is not in the table of sizes";
  }
  return "size " + chain.size +
         " is not in the table of sizes and the chain does not state `roller` and `width`";
}

std::string refusal_text(const Comparison& c, const std::string& size) {
  if (!c.pitch) {
    return "other pitch: the chain has " + millimetres(c.chain.pitch) + ", a sprocket of size " +
           size + ' ' + millimetres(c.sprocket.pitch);
  }
  std::string text;
  if (!c.near_roller()) {
    text = "other roller: the chain has " + millimetres(c.chain.roller_diameter) +
           ", the gaps of size " + size + " are cut for " + millimetres(c.sprocket.roller_diameter);
  }
  if (c.enters) return text;
  return text + (text.empty() ? "" : "; ") + "tooth wider than the chain: a tooth of size " + size +
         " is " + millimetres(c.tooth) + " thick, the chain " + millimetres(c.chain.inner_width) +
         " wide inside";
}

std::string caution_text(const Comparison& c, const std::string& size) {
  std::string text = "enters but is not to standard: ";
  if (!c.same_roller()) {
    text += "rollers of " + millimetres(c.chain.roller_diameter) + " in gaps of size " + size +
            ", cut for " + millimetres(c.sprocket.roller_diameter) +
            (c.roller > 0 ? ", ride high" : ", lie loose");
  }
  if (!c.same_roller() && !c.same_width()) text += "; ";
  if (!c.same_width()) {
    text += "a tooth of size " + size + " is " + millimetres(c.tooth) + " thick where this chain " +
            "takes " + millimetres(model::tooth_thickness(c.chain.inner_width)) +
            (c.width > 0 ? ": it wears faster" : ": it rubs on the plates");
  }
  return text;
}

}  // namespace

std::optional<ChainFormat> chain_format(std::string_view size) {
  const ChainSize* known = find_chain_shape(size);
  if (known == nullptr) return std::nullopt;
  return ChainFormat{known->pitch, known->roller_diameter, known->inner_width};
}

ChainFormat chain_format(const ChainPart& chain) {
  const ChainFormat known = chain_format(chain.size).value_or(ChainFormat{});
  const auto stated_or = [](double stated, double table) { return stated > 0 ? stated : table; };
  return {stated_or(chain.model.pitch, known.pitch),
          stated_or(chain.roller_diameter, known.roller_diameter),
          stated_or(chain.inner_width, known.inner_width)};
}

Interchange interchange(const ChainPart& chain, std::string_view sprocket_size) {
  return judge(compare(chain, sprocket_size), chain, sprocket_size);
}

std::string interchange_reason(const ChainPart& chain, std::string_view sprocket_size) {
  const Comparison c = compare(chain, sprocket_size);
  const Interchange verdict = judge(c, chain, sprocket_size);
  if (verdict == Interchange::kStandard) return "";
  if (c.unknown) return unknown_text(chain, sprocket_size);
  const std::string size(sprocket_size);
  return verdict == Interchange::kRefused ? refusal_text(c, size) : caution_text(c, size);
}

}  // namespace sprocketry::parts
