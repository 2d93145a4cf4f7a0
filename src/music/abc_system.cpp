#include "music/abc_system.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "music/abc_align.h"
#include "music/musicxml_bars.h"
#include "music/musicxml_voices.h"

namespace loftbeat::music {
namespace {

// A voice and the staff it stands on; staves without any note are left out.
struct PlacedVoice {
  AbcVoice* voice = nullptr;
  int staff = 0;
};

AbcVoice* find_voice(AbcParts& parts, const std::string& name) {
  for (AbcPart& part : parts.all()) {
    if (part.voice.name() == name) return &part.voice;
  }
  return nullptr;
}

// Voices by %%score, then those that it does not name, each on a staff of its own.
std::vector<std::vector<AbcVoice*>> staves_of_voices(AbcParts& parts) {
  std::vector<std::vector<AbcVoice*>> staves;
  std::vector<const AbcVoice*> placed;
  for (const std::vector<std::string>& names : parts.staves) {
    std::vector<AbcVoice*> staff;
    for (const std::string& name : names) {
      if (AbcVoice* voice = find_voice(parts, name)) staff.push_back(voice);
    }
    placed.insert(placed.end(), staff.begin(), staff.end());
    if (!staff.empty()) staves.push_back(std::move(staff));
  }
  for (AbcPart& part : parts.all()) {
    const bool named = std::find(placed.begin(), placed.end(), &part.voice) != placed.end();
    if (!named) staves.push_back({&part.voice});
  }
  return staves;
}

std::vector<PlacedVoice> place_voices(AbcParts& parts, int& staves) {
  std::vector<PlacedVoice> placed;
  staves = 0;
  for (const std::vector<AbcVoice*>& staff : staves_of_voices(parts)) {
    const bool sounds = std::any_of(staff.begin(), staff.end(),
                                    [](const AbcVoice* voice) { return voice->notes_read() > 0; });
    for (AbcVoice* voice : staff)
      placed.push_back({voice, std::max(sounds ? staves : staves - 1, 0)});
    if (sounds) ++staves;
  }
  return placed;
}

// The metre in force in each bar: what the topmost voice that changes it there says.
std::vector<std::optional<Metre>> metres_of_bars(const std::vector<PlacedVoice>& voices,
                                                 std::size_t bars) {
  std::vector<std::optional<AbcMetre>> changes(bars);
  for (const PlacedVoice& placed : voices) {
    for (const AbcMetreChange& change : placed.voice->metre_changes) {
      if (change.bar < bars && !changes[change.bar]) changes[change.bar] = change.metre;
    }
  }
  std::vector<std::optional<Metre>> metres(bars);
  std::optional<Metre> now;
  for (std::size_t b = 0; b < bars; ++b) {
    if (changes[b]) now = changes[b]->metre;
    metres[b] = now;
  }
  return metres;
}

// One sign stands for both places of a coda in ABC: of several, the last is where it begins.
void tell_codas_apart(WrittenScore& score) {
  for (WrittenPart& part : score.parts) {
    std::vector<WrittenBar*> codas;
    for (WrittenBar& bar : part.bars) {
      if (!bar.signs.coda.empty()) codas.push_back(&bar);
    }
    for (std::size_t i = 0; i + 1 < codas.size(); ++i) {
      codas[i]->signs.to_coda = std::exchange(codas[i]->signs.coda, {});
    }
  }
}

// An upbeat is bar 0; the second half of a divided bar has the number of the first.
void number_bars(WrittenScore& score) {
  int number = 0;
  for (SystemBar& bar : score.bars) {
    if (!bar.pickup) ++number;
    bar.number = std::to_string(number);
  }
}

std::string quarters_shown(Tick ticks) {
  return fmt::format("{:.4g}", static_cast<double>(ticks) / kTicksPerQuarter);
}

// Where voices are of unequal length in one bar, and where a bar holds more than its metre.
void tell_odd_bars(const std::vector<PlacedVoice>& voices, const WrittenScore& score,
                   const std::vector<std::optional<Metre>>& metres, AbcReport& report) {
  for (std::size_t b = 0; b < score.bars.size(); ++b) {
    const SystemBar& bar = score.bars[b];
    for (const PlacedVoice& placed : voices) {
      const AbcVoice& voice = *placed.voice;
      if (b >= voice.lengths.size() || voice.lengths[b] == bar.length) continue;
      report.put_up_with(
          {}, fmt::format("in bar {} voice {} lasts {} quarter notes, the bar {}; the next bar "
                          "begins with the other voices",
                          bar.number, abc_shown(voice.name()), quarters_shown(voice.lengths[b]),
                          quarters_shown(bar.length)));
    }
    if (!metres[b] || bar.length <= bar.metre.length()) continue;
    report.put_up_with(
        {},
        fmt::format("bar {} holds {} quarter notes, its metre {}: check its note values, for "
                    "what is said of this bar may be the score's fault",
                    bar.number, quarters_shown(bar.length), quarters_shown(bar.metre.length())));
  }
}

}  // namespace

WrittenScore build_abc_system(AbcParts& parts, AbcReport& report) {
  WrittenScore score;
  const std::vector<PlacedVoice> voices = place_voices(parts, score.staves);
  std::vector<AbcVoice*> order;
  for (const PlacedVoice& placed : voices) order.push_back(placed.voice);
  align_abc_bars(order, report);
  std::size_t bars = 0;
  for (const AbcVoice* voice : order) bars = std::max(bars, voice->bars.size());
  const std::vector<std::optional<Metre>> metres = metres_of_bars(voices, bars);
  for (const PlacedVoice& placed : voices) {
    WrittenPart part;
    part.bars = std::move(placed.voice->bars);
    part.first_staff = placed.staff;
    for (std::size_t b = 0; b < part.bars.size(); ++b) part.bars[b].metre = metres[b];
    score.parts.push_back(std::move(part));
  }
  tell_codas_apart(score);
  combine_bars(score);
  number_bars(score);
  tell_odd_bars(voices, score, metres, report);
  assign_voices(score);
  return score;
}

}  // namespace loftbeat::music
