#include "document/large_pages.hpp"

#include <sys/mman.h>

#include <cstdint>

namespace sprocketry::document {
namespace {

constexpr std::size_t kWorthIt = std::size_t{4} << 20U;
constexpr std::uintptr_t kPage = 4096;

}  // namespace

void wish_large_pages(void* begin, std::size_t bytes) {
#ifdef MADV_HUGEPAGE
  if (bytes < kWorthIt) return;
  const std::size_t skipped = (kPage - reinterpret_cast<std::uintptr_t>(begin) % kPage) % kPage;
  std::byte* const first = static_cast<std::byte*>(begin) + skipped;
  // A refusal changes nothing but the time.
  static_cast<void>(madvise(first, (bytes - skipped) / kPage * kPage, MADV_HUGEPAGE));
#else
  static_cast<void>(begin);
  static_cast<void>(bytes);
#endif
}

}  // namespace sprocketry::document
