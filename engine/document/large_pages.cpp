#include "document/large_pages.hpp"

#include <sys/mman.h>

#include <cstdint>

namespace sprocketry::document {
namespace {

constexpr std::size_t kWorthIt = std::size_t{4} << 20U;
constexpr std::uintptr_t kPage = 4096;

}  // namespace

void wish_large_pages(const void* begin, std::size_t bytes) {
#ifdef MADV_HUGEPAGE
  if (bytes < kWorthIt) return;
  const auto first = (reinterpret_cast<std::uintptr_t>(begin) + kPage - 1) / kPage * kPage;
  const auto last = (reinterpret_cast<std::uintptr_t>(begin) + bytes) / kPage * kPage;
  // A refusal changes nothing but the time.
  static_cast<void>(madvise(reinterpret_cast<void*>(first), last - first, MADV_HUGEPAGE));
#else
  static_cast<void>(begin);
  static_cast<void>(bytes);
#endif
}

}  // namespace sprocketry::document
