#include "complain.hpp"

#include <algorithm>
#include <iostream>

#include "document/text.hpp"

namespace sprocketry::cli {

void complain(std::string_view text) {
  constexpr std::size_t kLongestLine = 2000;  // code points
  std::cerr << "sprocketry: ";
  while (true) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::cerr << document::printable(text.substr(0, end), kLongestLine) << '\n';
    if (end == text.size()) return;
    text.remove_prefix(end + 1);
  }
}

}  // namespace sprocketry::cli
