// Reading large CSV parts lists, in MB of text a second:
//   csv_benchmark FOLDER [THREADS]   # invented motors and chargers, written there first
// What was read is checked before anything is printed: each row a part, its last figures right.

#include <sys/resource.h>
#include <tbb/global_control.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <functional>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "document/csv.hpp"
#include "parts/load.hpp"

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
  std::printf("| %s | %.1f MB | %.3f s | %.3f s | %.0f MB/s | %.0f MB/s |\n", name, size,
              took.elapsed, took.cpu, size / took.elapsed, size / took.cpu);
}

std::size_t parts_of(const parts::Catalogue& c) {
  return c.motors.size() + c.controllers.size() + c.cells.size() + c.packs.size() +
         c.chargers.size() + c.chains.size() + c.front_sprockets.size() + c.rear_sprockets.size() +
         c.tyres.size() + c.extras.size();
}

// A number of so many decimals between two bounds.
class Dice {
 public:
  std::string operator()(double low, double high, int decimals) {
    const double share = static_cast<double>(random_() >> 11U) * 0x1p-53;
    std::array<char, 32> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(),
                                   low + share * (high - low), std::chars_format::fixed, decimals);
    return {text.data(), end.ptr};
  }

 private:
  std::mt19937_64 random_{1};
};

constexpr int kRows = 90000;

std::string motors_table(Dice& dice) {
  std::string text =
      "id,kind,speed_constant,resistance,no_load.0.voltage,no_load.0.current,max_voltage,max_speed,"
      "current.continuous,current.peak,current.for,thermal.resistance,thermal.capacity,"
      "thermal.max_winding,shaft.diameter,shaft.key,shaft.length,mass,price\n";
  for (int i = 0; i < kRows; ++i) {
    text += "motor-" + std::to_string(100000 + i) + ",brushless," + dice(30, 80, 2) + " rpm/V," +
            dice(5, 40, 3) + " mohm,48 V," + dice(1, 5, 2) + " A,96 V," + dice(4000, 6000, 0) +
            " rpm," + dice(60, 200, 1) + " A," + dice(220, 500, 1) + " A,60 s," +
            dice(0.1, 0.5, 4) + " K/W," + dice(2000, 7000, 0) +
            " J/K,155 degC,7/8 in,3/16 in,45 mm," + dice(4, 18, 2) + " kg," + dice(300, 1500, 0) +
            "\n";
  }
  return text;
}

std::string chargers_table(Dice& dice) {
  std::string text =
      "id,chemistries,full_voltage.min,full_voltage.max,current,carried,mass,price\n";
  for (int i = 0; i < kRows; ++i) {
    text += "charger-" + std::to_string(100000 + i) + ",[lfp]," + dice(46, 54, 1) + " V," +
            dice(56, 60, 1) + " V," + dice(5, 25, 0) + " A,no," + dice(1, 4, 2) + " kg," +
            dice(50, 400, 2) + "\n";
  }
  return text;
}

void write_file(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

int read(const std::string& folder, const std::string& list, const std::string& text) {
  const std::string table_path = folder + "/" + list + ".csv";
  const std::string parts_path = folder + "/" + list + ".yaml";
  write_file(table_path, text);
  write_file(parts_path, list + ": " + list + ".csv\n");
  const document::Source source{table_path, text, {}};
  document::Diagnostics diagnostics;
  const auto table = document::parse_csv(source, diagnostics);
  const auto catalogue = parts::load_catalogue({{parts_path, parts_path, {}}}, false, diagnostics);
  const bool whole = table && table->rows == kRows && parts_of(catalogue) == kRows;
  const auto last_price = whole ? catalogue.motors.empty() ? catalogue.chargers.back().price
                                                           : catalogue.motors.back().price
                                : 0;
  const bool right =
      whole &&
      last_price == std::llround(std::stod(document::all_cells(*table).back().back().text) *
                                 static_cast<double>(parts::kMoneyUnit));
  if (!right || diagnostics.has_errors()) {
    std::fputs("the list was not read as it was written\n", stderr);
    std::fputs(diagnostics.text().c_str(), stderr);
    return 1;
  }
  std::printf(
      "\n%zu %s of %zu cells\n\n| | size | time | CPU | by time | by CPU "
      "|\n|---|---|---|---|---|---|\n",
      table->rows, list.c_str(), table->header.size());
  print("rows", text.size(), quickest([&] {
          document::Diagnostics findings;
          document::parse_csv(source, findings);
        }));
  print("cells", text.size(), quickest([&] {
          document::Diagnostics findings;
          const auto rows = document::parse_csv(source, findings);
          for (const document::CsvTable::Piece& piece : rows->pieces) {
            document::each_csv_row(*rows, piece, [](const auto&) { return true; });
          }
        }));
  print("cells and trees", text.size(), quickest([&] {
          document::Diagnostics findings;
          const auto rows = document::parse_csv(source, findings);
          const auto shape = document::csv_shape(*rows, findings);
          for (const document::CsvTable::Piece& piece : rows->pieces) {
            document::each_csv_item(*rows, *shape, piece, [](const document::Node&) {});
          }
        }));
  print("the whole load", text.size(), quickest([&] {
          document::Diagnostics findings;
          parts::load_catalogue({{parts_path, parts_path, {}}}, false, findings);
        }));
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2 && argc != 3) {
    std::fputs("csv_benchmark FOLDER [THREADS]\n", stderr);
    return 2;
  }
  std::optional<tbb::global_control> limit;
  if (argc == 3) {
    limit.emplace(tbb::global_control::max_allowed_parallelism, std::stoul(argv[2]));
  }
  Dice dice;
  const int failed = read(argv[1], "motors", motors_table(dice));
  return failed != 0 ? failed : read(argv[1], "chargers", chargers_table(dice));
}
