#pragma once

#include <cstddef>
#include <vector>

namespace sprocketry::document {

// Asks for memory that was reserved and not yet written to come in large pages. The first touch of
// each small page costs up to 17 us on a virtual machine, which is most of what reading a long list
// would take. A wish: without effect for less than a few megabytes or where the system knows no
// such pages.
void wish_large_pages(void* begin, std::size_t bytes);

// reserve() of a vector that holds nothing yet, in such pages.
template <typename T>
void reserve_large(std::vector<T>& items, std::size_t count) {
  items.reserve(count);
  wish_large_pages(items.data(), count * sizeof(T));
}

}  // namespace sprocketry::document
