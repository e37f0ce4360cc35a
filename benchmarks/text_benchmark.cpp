// Writing large fronts, in MB of text a second:
//   text_benchmark JOB.yaml FILE   # the job's front as JSON and CSV, into a file
// What was written is checked before its time is printed: its end, its lines.

#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <functional>
#include <iterator>
#include <string>

#include "report/design_csv.hpp"
#include "report/front_json.hpp"
#include "search/search.hpp"
#include "spec/load.hpp"

namespace {

using namespace sprocketry;

double cpu_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

// CPU and elapsed seconds of the quickest of five runs; other work on the machine lengthens both.
struct Quickest {
  double cpu = 1e9, elapsed = 1e9;
};
Quickest quickest(const std::function<void()>& work) {
  Quickest best;
  for (int run = 0; run < 5; ++run) {
    const double cpu = cpu_seconds();
    const auto start = std::chrono::steady_clock::now();
    work();
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    best = {std::min(best.cpu, cpu_seconds() - cpu), std::min(best.elapsed, taken.count())};
  }
  return best;
}

void print(const char* name, std::size_t bytes, const Quickest& took) {
  const double size = static_cast<double>(bytes) / 1e6;
  std::printf("| %s | %.1f MB | %.3f s | %.3f s | %.0f MB/s |\n", name, size, took.elapsed,
              took.cpu, size / took.cpu);
}

std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

void write_csv(std::ostream& out, const report::Result& result) {
  out << report::csv_header(result.job.requirement, false);
  std::string line;
  for (const search::Combination& member : result.front.members) {
    line.clear();
    report::append_csv(line, search::evaluate_design(result.setup, result.space, member), false);
    out << line;
  }
}

int write(const std::string& job_path, const std::string& path) {
  document::Diagnostics diagnostics;
  const auto job = spec::load_job(job_path, {}, diagnostics);
  if (!job) {
    std::fputs(diagnostics.text().c_str(), stderr);
    return 2;
  }
  const search::Setup setup = search::make_setup(job->requirement);
  const search::Space space = search::make_space(*job);
  const search::Front front = search::search(setup, space, 0);
  const report::Result result{*job, setup, space, front};
  std::printf("a front of %zu\n\n| | size | time | CPU | rate |\n|---|---|---|---|---|\n",
              front.members.size());
  const auto time = [&](const char* name, const std::function<void(std::ostream&)>& work) {
    const Quickest took = quickest([&] {
      std::ofstream out(path, std::ios::binary);
      work(out);
    });
    print(name, text_of(path).size(), took);
  };
  time("JSON", [&](std::ostream& out) {
    report::write_front_json(out, result, "", report::RuleRows::kTelling);
  });
  const std::string json = text_of(path);
  if (!json.ends_with("}\n")) return 1;
  time("the same bytes alone", [&](std::ostream& out) {
    out.write(json.data(), static_cast<std::streamsize>(json.size()));
  });
  time("CSV", [&](std::ostream& out) { write_csv(out, result); });
  const std::string csv = text_of(path);
  const auto lines = static_cast<std::size_t>(std::ranges::count(csv, '\n'));
  if (lines != front.members.size() + 1) return 1;
  time("its evaluation alone", [&](std::ostream&) {
    for (const search::Combination& member : front.members) {
      search::evaluate_design(setup, space, member);
    }
  });
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc == 3) return write(argv[1], argv[2]);
  std::fputs("text_benchmark JOB.yaml FILE\n", stderr);
  return 2;
}
