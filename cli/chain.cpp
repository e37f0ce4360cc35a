#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "parts/limits.hpp"
#include "parts/standards.hpp"
#include "report/chain_reading.hpp"
#include "spec/limits.hpp"
#include "units/units.hpp"

namespace sprocketry::cli {
namespace {

namespace limits = parts::limits;

struct Options {
  std::string size, pitch, roller, loop, centre;
  std::string around = "tips";
  std::string format = "text";
  std::optional<std::string> output;
  int front = 0, rear = 0, links = 0;
};

std::string within(const std::string& text, const parts::IntegerRule& rule) {
  return check_whole(text, static_cast<std::uint64_t>(rule.min),
                     static_cast<std::uint64_t>(rule.max));
}

bool refuse(const std::string& text) {
  complain(text + "\nMore: sprocketry chain --help");
  return false;
}

// Exactly one of the two says the pitch, of the three what was measured.
bool is_complete(const Options& o) {
  if (o.size.empty() == o.pitch.empty()) {
    return refuse("give the chain as --size or as --pitch, one of them");
  }
  const int given = (o.loop.empty() ? 0 : 1) + (o.centre.empty() ? 0 : 1) + (o.links > 0 ? 1 : 0);
  if (given != 1) {
    return refuse("give one measurement: --loop, --centre or --old-links");
  }
  if (o.around == "roots" && !o.loop.empty() && o.size.empty() && o.roller.empty()) {
    return refuse("--around roots needs --roller, or --size instead of --pitch");
  }
  return true;
}

// Pitch and roller; nothing when they are wrong.
bool read_chain(const Options& o, report::ChainAnswer& answer) {
  model::SprocketPair& s = answer.sprockets;
  s.front_teeth = o.front;
  s.rear_teeth = o.rear;
  if (!o.size.empty()) {
    const parts::ChainSize* size = parts::find_chain_size(o.size);
    if (!size) {
      std::vector<std::string> names;
      for (const parts::ChainSize& known : parts::chain_sizes()) names.emplace_back(known.name);
      return refuse("there is no chain size '" + o.size + "' in the table" +
                    did_you_mean(o.size, names) + "; --pitch takes any pitch");
    }
    answer.size = std::string(size->name);
    s.pitch = size->pitch;
    s.roller_diameter = size->roller_diameter;
  } else if (const auto pitch = length_of("--pitch", o.pitch, limits::chain::kPitch)) {
    s.pitch = *pitch;
  } else {
    return false;
  }
  if (o.roller.empty()) return true;
  const auto roller = length_of("--roller", o.roller, limits::chain::kRoller);
  s.roller_diameter = roller.value_or(0);
  if (roller && *roller >= s.pitch) return refuse("--roller: a roller is smaller than the pitch");
  return roller.has_value();
}

bool read_measurement(const Options& o, report::ChainAnswer& answer) {
  constexpr parts::QuantityRule kLoop{units::Dimension::kLength, 0.2, 6};
  report::Measured& m = answer.measured;
  if (o.links > 0) {
    m.links = o.links;
    answer.reading = model::read_count(answer.sprockets, o.links);
    return true;
  }
  if (!o.centre.empty()) {
    m.centre = length_of("--centre", o.centre, spec::limits::bike::kCentreDistance);
    if (m.centre) answer.reading = model::read_centre(answer.sprockets, *m.centre);
    return m.centre.has_value();
  }
  m.around = o.around == "tips"    ? model::Around::kTips
             : o.around == "roots" ? model::Around::kRoots
                                   : model::Around::kPitchLine;
  m.loop = length_of("--loop", o.loop, kLoop);
  if (m.loop) answer.reading = model::read_loop(answer.sprockets, m.around, *m.loop);
  return m.loop.has_value();
}

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  report::ChainAnswer answer;
  if (!is_complete(options) || !read_chain(options, answer) || !read_measurement(options, answer)) {
    return kBadInput;
  }
  if (options.format == "json") {
    report::write_chain_answer_json(output.stream(), answer);
  } else {
    report::write_chain_answer_text(output.stream(), answer, output.colour());
  }
  return output.finish(answer.reading.doubts.empty() ? kDone : kAnswerIsNo);
}

constexpr const char* kHowTo =
    "How to measure, on a bike in gear with the power disconnected:\n"
    "  --loop, no chain on it: pull a thin string tight once round both bare sprockets, in line\n"
    "    with the teeth, mark where it meets itself, and lay it along a tape. It runs from tip to\n"
    "    tip (--around tips): straight between the sprockets, with corners on the outside\n"
    "    diameters p (0.6 + cot(180 deg/N)). Makers cut tips differently: the answer says by how\n"
    "    much that blurs the count. A narrow cord pressed down to the bottoms of the tooth gaps\n"
    "    is --around roots: circles of the pitch diameter less the roller's. A string along the\n"
    "    pins of the old chain, pulled straight on the bike, is --around pitch-line.\n"
    "  --old-links: count the old chain, inner and outer links each as one, the connecting link\n"
    "    too. The count does not wear, so this is the surest.\n"
    "  --centre: tape from the middle of the shaft to the middle of the axle.\n"
    "A loop counts as good to 5 mm, a distance to 2 mm (common practice, no source). A reading is\n"
    "plausible when the sprockets do not touch and shaft and axle are 20 to 80 pitches apart.\n"
    "The centre distance is that of a chain pulled straight; the length is the exact one of two\n"
    "tangents and two arcs.\n";

}  // namespace

void add_chain(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "chain",
      "Reads a tape or string measurement of a chain drive: link count, centre distance,\n"
      "whether it can be right, and the even counts near it.");
  command
      ->add_option("--size", options->size,
                   "chain size, for example 420 or 40; or --pitch, and --roller if known")
      ->type_name("SIZE");
  command->add_option("--pitch", options->pitch, "pitch, for example '1/2 in'")
      ->type_name("LENGTH");
  command->add_option("--roller", options->roller, "roller diameter, for example '7.77 mm'")
      ->type_name("LENGTH");
  const auto teeth = [&](const char* name, int& value, const char* description) {
    command->add_option(name, value, description)
        ->required()
        ->check([](const std::string& text) { return within(text, limits::sprocket::kTeeth); })
        ->type_name("TEETH");
  };
  teeth("--front", options->front, "teeth of the front sprocket");
  teeth("--rear", options->rear, "teeth of the rear sprocket");
  command
      ->add_option("--loop", options->loop,
                   "length of a string or tape pulled tight round both sprockets")
      ->type_name("LENGTH");
  add_choice(*command, "--around", options->around, {"tips", "roots", "pitch-line"},
             "what the loop lay on");
  command->add_option("--old-links", options->links, "links of a chain that is known to fit")
      ->check([](const std::string& text) { return within(text, limits::chain::kLinks); })
      ->type_name("LINKS");
  command->add_option("--centre", options->centre, "distance from shaft to axle")
      ->type_name("LENGTH");
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  add_output(*command, options->output);
  lay_out(*command,
          std::string(kHowTo) +
              "\nExit codes: 0 the measurement is plausible; 1 it is not; 2 wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
