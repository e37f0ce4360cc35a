#include "manual.hpp"

#include <algorithm>

#include "report/text.hpp"
#include "rules/rule.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::cli {
namespace {

// A word and what it means, the words set under each other.
std::string entry(std::string word, std::string_view meaning) {
  constexpr std::size_t kColumn = 28;
  constexpr std::size_t kWidth = 96;
  word.resize(std::max(word.size() + 2, kColumn), ' ');
  std::string text = report::wrapped(meaning, std::string(kColumn + 2, ' '), kWidth);
  text.replace(0, std::min(text.size(), word.size() + 2), "  " + word);
  return text;
}

std::string word_of(const spec::MetricInfo& info) {
  std::string word(info.label);
  constexpr std::string_view kTarget = "{pull_away_to}";
  if (const std::size_t at = word.find(kTarget); at != std::string::npos) {
    word.replace(at, kTarget.size(), "50 km/h");
  }
  return word;
}

}  // namespace

std::string_view example_of(std::string_view command) {
  if (command == "search") return "sprocketry search specs/demo.yaml --set 'must.price.max=3000'";
  if (command == "merge") return "sprocketry merge part1.json part2.json --output front.json";
  if (command == "explain") {
    return "sprocketry explain specs/demo.yaml --set must.range.min=150km --set "
           "must.price.max=2500";
  }
  if (command == "robust") {
    return "sprocketry robust specs/demo.yaml --set 'spread.bike.drag_area.normal=10 %'";
  }
  if (command == "evaluate") {
    return "sprocketry evaluate specs/demo.yaml --pick "
           "hollin-48/keld-200/slate-60x20s1p/drip-lfp-72/linkage-420/hub-420-78:12/ring-420:59";
  }
  if (command == "swaps") {
    return "sprocketry swaps specs/demo.yaml --pick "
           "hollin-48/keld-200/slate-60x20s1p/drip-lfp-72/linkage-420/hub-420-78:12/ring-420:59";
  }
  if (command == "sheet") {
    return "sprocketry sheet specs/demo.yaml --format html --output sheet.html --pick "
           "hollin-48/keld-200/slate-60x20s1p/drip-lfp-72/linkage-420/hub-420-78:12/ring-420:59";
  }
  if (command == "guard") {
    return "sprocketry guard specs/demo.yaml --format dxf --output guard.dxf --pick "
           "hollin-48/keld-200/slate-60x20s1p/drip-lfp-72/linkage-420/hub-420-78:12/ring-420:59";
  }
  if (command == "compare") {
    return "sprocketry compare specs/demo.yaml --a-set 'choose.pack.voltage=[48 V]' "
           "--b-set 'choose.pack.voltage=[72 V]'";
  }
  if (command == "lock") {
    return "sprocketry lock specs/demo.yaml --pick "
           "hollin-48/keld-200/slate-60x20s1p/drip-lfp-72/linkage-420/hub-420-78:12/ring-420:59 "
           "-o bike.lock.yaml";
  }
  if (command == "check") return "sprocketry check bike.lock.yaml";
  if (command == "enumerate") return "sprocketry enumerate specs/tiny.yaml --format csv";
  if (command == "parts") return "sprocketry parts specs/parts/harbour.yaml";
  if (command == "chain") {
    return "sprocketry chain --size 420 --front 12 --rear 60 --loop '1650 mm'";
  }
  return "sprocketry search specs/demo.yaml";
}

void lay_out(CLI::App& command, const std::string& more) {
  constexpr std::size_t kOptionColumn = 30;
  command.group("Commands");
  const auto formatter = command.get_formatter();
  formatter->column_width(kOptionColumn);
  formatter->label("REQUIRED", "");
  formatter->label("Positionals", "Takes");
  formatter->label("SUBCOMMAND", "COMMAND ...");
  command.get_help_ptr()->description("print this page");
  command.footer("Example:\n  " + std::string(example_of(command.get_name())) + "\n\n" + more);
}

std::string glossary() {
  std::string text = "Words of the tables (in brackets: the name as an objective):\n";
  for (const spec::MetricInfo& info : spec::metric_table()) {
    const std::string name = info.objective ? " [" + std::string(info.name) + "]" : "";
    text += entry(word_of(info), std::string(info.explanation) + name);
  }
  text +=
      entry("gearing",
            "teeth of the front and the rear sprocket, and the reduction from motor to wheel: rear "
            "over front, times the ratio of bike.primary");
  text += entry("full-charge voltage",
                "the pack's at the end of charging: what controller and motor must stand");
  text += entry("settings", "what the controller is set to; the figures are only true with it");
  text += entry("margin", "how far inside its limit a value lies");
  text += entry("front",
                "the sets of parts that cannot be bettered in one aim without losing in "
                "another");
  text +=
      "Winding temperatures take the ride's mean heat: the ripple within one pass of the ride is "
      "left out.\n";
  return text;
}

std::string rule_list() {
  std::string text =
      "Rules, in the order in which a rejected combination is counted (what must hold):\n";
  for (const rules::Rule& rule : rules::rule_table()) {
    const bool caution = rule.kind == rules::Kind::kCaution;
    text += entry(std::string(rule.name),
                  std::string(rule.explanation) + (caution ? " [only a caution]" : ""));
  }
  return text;
}

std::string exit_codes() {
  return "Each command has its own --help.\n\n"
         "Exit codes:\n"
         "  0   done\n"
         "  1   the answer is no: nothing meets the demands, a rule rejects the design, or\n"
         "      a locked design no longer holds\n"
         "  2   the input is wrong; standard error says where, and what to do\n"
         "  3   stopped before the end (Ctrl-C, a full disk, too little memory, a reader that\n"
         "      stopped)\n"
         "  70  a defect in the program\n";
}

}  // namespace sprocketry::cli
