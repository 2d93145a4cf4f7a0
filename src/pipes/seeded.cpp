#include "pipes/seeded.h"

namespace loftbeat::pipes {

Seeded::Seeded(std::string_view name, int a, int b) : state_(0xcbf29ce484222325U) {
  const auto stir = [this](std::uint64_t byte) { state_ = (state_ ^ byte) * 0x100000001b3U; };
  for (const char c : name) stir(static_cast<unsigned char>(c));
  for (const int number : {a, b}) stir(static_cast<std::uint32_t>(number));
}

double Seeded::unit() {
  state_ += 0x9e3779b97f4a7c15U;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  z ^= z >> 31U;
  return static_cast<double>(z >> 11U) * 0x1p-53;
}

}  // namespace loftbeat::pipes
