#include "tiny_soundfont.h"

#include <cmath>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <utility>
#include <vector>

#include <unistd.h>

namespace loftbeat::voice {
namespace {

void put(std::string& bytes, std::uint32_t value, int count) {
  for (int i = 0; i < count; ++i) bytes += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

void put_name(std::string& bytes, std::string name) {
  name.resize(20, '\0');
  bytes += name;
}

std::string chunk(const std::string& id, std::string body) {
  if (body.size() % 2 != 0) body += '\0';
  std::string bytes = id;
  put(bytes, static_cast<std::uint32_t>(body.size()), 4);
  return bytes + body;
}

// Zones and generators: pairs of (operator, amount).
std::string generators(const std::vector<std::pair<int, int>>& list) {
  std::string bytes;
  for (const auto& [op, amount] : list) {
    put(bytes, static_cast<std::uint32_t>(op), 2);
    put(bytes, static_cast<std::uint32_t>(amount) & 0xFFFFU, 2);
  }
  put(bytes, 0, 4);
  return bytes;
}

std::string bags() {
  std::string bytes;
  put(bytes, 0, 4);
  return bytes;
}

constexpr int kPeriod = 100;
constexpr int kPeriods = 8;

std::string samples() {
  std::string bytes;
  for (int i = 0; i < kPeriod * kPeriods; ++i) {
    const double value = kTinyAmplitude * std::sin(2 * std::numbers::pi * i / kPeriod);
    put(bytes, static_cast<std::uint32_t>(std::lround(value * 32767)) & 0xFFFFU, 2);
  }
  return bytes + std::string(2 * 46, '\0');
}

std::string preset_data() {
  std::string phdr, inst, shdr, pbag = bags(), ibag = bags();
  for (const bool last : {false, true}) {
    put_name(phdr, last ? "EOP" : "sine");
    put(phdr, 0, 4);  // preset and bank
    put(phdr, last ? 1 : 0, 2);
    put(phdr, 0, 4);
    put(phdr, 0, 4);
    put(phdr, 0, 4);
    put_name(inst, last ? "EOI" : "sine");
    put(inst, last ? 1 : 0, 2);
    put_name(shdr, last ? "EOS" : "sine");
    const std::uint32_t end = kPeriod * kPeriods;
    for (const std::uint32_t value : {0U, end, std::uint32_t{kPeriod}, end - kPeriod, 44000U})
      put(shdr, last ? 0 : value, 4);
    put(shdr, last ? 0 : 69, 1);  // 44000 / 100 = 440 Hz, key 69
    put(shdr, 0, 1);
    put(shdr, 0, 2);
    put(shdr, last ? 0 : 1, 2);
  }
  put(pbag, 1, 2);
  put(pbag, 0, 2);
  put(ibag, 2, 2);
  put(ibag, 0, 2);
  const std::string no_modulators(10, '\0');
  return chunk("phdr", phdr) + chunk("pbag", pbag) + chunk("pmod", no_modulators) +
         chunk("pgen", generators({{41, 0}})) + chunk("inst", inst) + chunk("ibag", ibag) +
         chunk("imod", no_modulators) + chunk("igen", generators({{54, 1}, {53, 0}})) +
         chunk("shdr", shdr);
}

}  // namespace

std::string tiny_soundfont() {
  std::string version;
  put(version, 2, 2);
  put(version, 4, 2);
  const std::string info = "INFO" + chunk("ifil", version) +
                           chunk("isng", std::string("EMU8000\0", 8)) +
                           chunk("INAM", std::string("tiny\0\0", 6));
  return chunk("RIFF", "sfbk" + chunk("LIST", info) +
                           chunk("LIST", "sdta" + chunk("smpl", samples())) +
                           chunk("LIST", "pdta" + preset_data()));
}

TinySoundFontFile::TinySoundFontFile() {
  static int number = 0;
  path_ = (std::filesystem::temp_directory_path() /
           ("loftbeat-tiny-" + std::to_string(getpid()) + "-" + std::to_string(number++) + ".sf2"))
              .string();
  std::ofstream(path_, std::ios::binary) << tiny_soundfont();
}

TinySoundFontFile::~TinySoundFontFile() { std::remove(path_.c_str()); }

}  // namespace loftbeat::voice
