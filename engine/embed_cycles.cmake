# Turns driving cycles (specs/cycles/*.csv) into C++ constants, so that the program carries them.
#   cmake -DCYCLES=a.csv;b.csv -DOUTPUT=embedded_cycles.cpp -P embed_cycles.cmake
# A file is lines that begin with '#' (the lines '# id: ...' and '# regulation: ...' once each), the
# line time_s,speed_km_h, then one 'time,speed' line a sample. Anything else stops the build.
cmake_minimum_required(VERSION 3.25)

# The text after '# key: ', which must stand in the file exactly once.
function(read_comment file key out)
  file(STRINGS ${file} lines REGEX "^# ${key}: ")
  list(LENGTH lines count)
  if(NOT count EQUAL 1)
    message(FATAL_ERROR "${file}: needs the line '# ${key}: ...' once, without semicolons")
  endif()
  string(REGEX REPLACE "^# ${key}: " "" text "${lines}")
  if(text MATCHES "[\"\\\\]")
    message(FATAL_ERROR "${file}: '# ${key}: ...' must not contain quotes or backslashes")
  endif()
  set(${out} "${text}" PARENT_SCOPE)
endfunction()

# "21.6667" as the fraction {216667, 10000}.
function(read_decimal text out)
  set(decimals "")
  if(text MATCHES "\\.([0-9]+)$")
    set(decimals ${CMAKE_MATCH_1})
  endif()
  string(LENGTH "${decimals}" count)
  string(REPEAT "0" ${count} zeros)
  string(REPLACE "." "" digits "${text}")
  # Leading zeros would make it octal.
  string(REGEX MATCH "^0*([0-9]+)$" digits "${digits}")
  set(${out} "{${CMAKE_MATCH_1}, 1${zeros}}" PARENT_SCOPE)
endfunction()

# Comma-separated times, and speeds as fractions, of the samples.
function(read_samples file out_times out_speeds)
  file(STRINGS ${file} lines REGEX "^[^#]")
  list(POP_FRONT lines columns)
  if(NOT columns STREQUAL "time_s,speed_km_h")
    message(FATAL_ERROR "${file}: the columns must be time_s,speed_km_h")
  endif()
  # A function sees its caller's variables: without this a cycle would begin with the one before.
  set(times "")
  set(speeds "")
  foreach(line IN LISTS lines)
    if(NOT line MATCHES "^([0-9]+),([0-9]+(\\.[0-9]+)?)$")
      message(FATAL_ERROR "${file}: not a sample 'time,speed': ${line}")
    endif()
    list(APPEND times ${CMAKE_MATCH_1})
    read_decimal(${CMAKE_MATCH_2} speed)
    list(APPEND speeds ${speed})
  endforeach()
  list(LENGTH times count)
  if(count LESS 2)
    message(FATAL_ERROR "${file}: a cycle needs at least 2 samples")
  endif()
  list(JOIN times ", " times)
  list(JOIN speeds ", " speeds)
  set(${out_times} "${times}" PARENT_SCOPE)
  set(${out_speeds} "${speeds}" PARENT_SCOPE)
endfunction()

list(SORT CYCLES)
set(arrays "")
set(rows "")
foreach(file IN LISTS CYCLES)
  read_comment(${file} id id)
  read_comment(${file} regulation regulation)
  read_samples(${file} times speeds)
  get_filename_component(stem ${file} NAME_WLE)
  if(NOT id STREQUAL stem)
    message(FATAL_ERROR "${file}: '# id: ${id}' must equal the file's name")
  endif()
  string(REPLACE "-" "_" name ${id})
  string(APPEND arrays "constexpr auto kTime_${name} = std::to_array<double>({${times}});\n"
                       "constexpr auto kSpeed_${name} = from_km_h({${speeds}});\n\n")
  string(APPEND rows "    {\"${id}\", \"${regulation}\", kTime_${name}, kSpeed_${name}},\n")
endforeach()

file(WRITE ${OUTPUT}.new "// Generated from the driving cycles by embed_cycles.cmake.
#include <array>
#include <cstddef>
#include <cstdint>

#include \"spec/cycles.hpp\"

namespace sprocketry::spec {
namespace {

// A speed in km/h: 21.6667 is 216667/10000.
struct Decimal {
  std::int64_t digits;
  std::int64_t scale;
};

// Two whole numbers that double holds exactly and one division: rounded once, like the unit
// reader's \"72 km/h\", so that an embedded cycle and its file give the same doubles.
template <std::size_t kCount>
constexpr std::array<double, kCount> from_km_h(const Decimal (&speeds)[kCount]) {
  std::array<double, kCount> result{};
  for (std::size_t i = 0; i < kCount; ++i) {
    result[i] =
        static_cast<double>(speeds[i].digits * 5) / static_cast<double>(speeds[i].scale * 18);
  }
  return result;
}

${arrays}constexpr Cycle kCycles[] = {
${rows}};

}  // namespace

std::span<const Cycle> cycles() { return kCycles; }

}  // namespace sprocketry::spec
")
file(RENAME ${OUTPUT}.new ${OUTPUT})
