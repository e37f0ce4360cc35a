#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "parts/catalogue.hpp"

namespace sprocketry::parts {

// The three dimensions that a chain and a sprocket must share, in m; 0: not known.
struct ChainFormat {
  double pitch = 0;
  double roller_diameter = 0;
  double inner_width = 0;
};

// The format of a size that the standards table knows by find_chain_shape(); nothing for another.
std::optional<ChainFormat> chain_format(std::string_view size);

// A chain's own format: what its entry states, the table's for what it leaves out.
ChainFormat chain_format(const ChainPart& chain);

// How a chain runs on a sprocket that is cut to the standard for another size.
enum class Interchange {
  kStandard,     // pitch, roller and inner width agree: the standard's own sprocket
  kNotStandard,  // it enters and engages, but wears faster than it should
  kRefused       // another pitch or roller, or a tooth wider than the chain
};

// Judges pitch and roller of the chain against the sprocket's gaps and its inner width against the
// tooth. Sizes of one name go together even where nothing else is known of them; of two names one
// of which is not known, the chain is refused.
Interchange interchange(const ChainPart& chain, std::string_view sprocket_size);

// Why, in words with figures in mm, or "" for kStandard: "a tooth of size 40 is 7.23 mm thick and
// does not enter a chain 6.35 mm wide inside".
std::string interchange_reason(const ChainPart& chain, std::string_view sprocket_size);

}  // namespace sprocketry::parts
