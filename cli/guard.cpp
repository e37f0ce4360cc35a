#include "guard.hpp"

#include <exception>
#include <new>
#include <string>
#include <system_error>

#include "commands.hpp"
#include "complain.hpp"

namespace sprocketry::cli {
namespace {

int defect(const char* what) {
  complain(std::string(what) +
           "\nThis is a defect in the program; please report it with the files that you used.");
  return kDefect;
}

}  // namespace

int guarded(const std::function<int()>& work) try { return work(); } catch (const std::bad_alloc&) {
  complain(
      "there is not enough memory for this; ask less at once (fewer parts or counts under "
      "`choose`, `search --slice`), or let the program have more");
  return kStopped;
} catch (const std::system_error& error) {
  if (error.code() != std::errc::resource_unavailable_try_again) return defect(error.what());
  complain(
      "the system lets this program start no more threads; close other programs, or lift the "
      "limit (ulimit -u)");
  return kStopped;
} catch (const std::exception& error) {
  return defect(error.what());
} catch (...) {
  return defect("something unknown went wrong");
}

}  // namespace sprocketry::cli
