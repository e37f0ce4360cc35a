#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

namespace sprocketry::search {

// Text of many items, made piece by piece on threads (0: one for each core) and handed on in order:
// `make` appends the text of the items from `first` up to but not including `last`, from several
// threads at once, and `write` takes one piece's text after the other, from one thread at a time. A
// few pieces are in memory at once.
void write_in_order(
    std::size_t items, int threads,
    const std::function<void(std::size_t first, std::size_t last, std::string&)>& make,
    const std::function<void(std::string_view)>& write);

}  // namespace sprocketry::search
