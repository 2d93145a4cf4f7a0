#pragma once

// Private to plan/: the words of a plan file, in one place for reading and writing.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "plan/plan.h"

namespace loftbeat::plan {

template <typename Value>
using Word = std::pair<std::string_view, Value>;

inline constexpr std::array<Word<BeatUnit>, 5> kBeatUnits = {{
    {"eighth", BeatUnit::eighth},
    {"quarter", BeatUnit::quarter},
    {"dotted-quarter", BeatUnit::dotted_quarter},
    {"half", BeatUnit::half},
    {"dotted-half", BeatUnit::dotted_half},
}};

inline constexpr std::array<Word<Texture>, 6> kTextures = {{
    {"as-written", Texture::as_written},
    {"tune-up-octave", Texture::tune_up_octave},
    {"no-pedal", Texture::no_pedal},
    {"fuller", Texture::fuller},
    {"unison", Texture::unison},
    {"free-harmony", Texture::free_harmony},
}};

inline constexpr std::array<Word<PlayOverKind>, 4> kPlayOvers = {{
    {"auto", PlayOverKind::automatic},
    {"none", PlayOverKind::none},
    {"whole", PlayOverKind::whole},
    {"first-and-last", PlayOverKind::first_and_last},
}};

inline constexpr std::array<Word<WishKind>, 4> kWishes = {{
    {"quiet", WishKind::quiet},
    {"plain", WishKind::plain},
    {"bright", WishKind::bright},
    {"full", WishKind::full},
}};

// What messages say was expected.
inline constexpr std::string_view kJoinExpected =
    "hold + lift in beats such as \"3+1\", or \"bar\", or \"bar+1\" for one extra bar";
inline constexpr std::string_view kFermataExpected =
    "\"sign-only\", \"free\" or \"hold N\" with N beats, such as \"hold 1.5\"";
inline constexpr std::string_view kPlaceExpected =
    "a bar and a beat such as \"4:3\", or a bar alone";
inline constexpr std::string_view kPlayOverExpected =
    "\"auto\", \"none\", \"whole\", \"first-and-last\" or phrase numbers such as [1, 4]";

// Ranges that plan files keep.
inline constexpr double kMostJoinBeats = 64;
inline constexpr int kMostExtraBars = 16;
inline constexpr double kMostBeatInBar = 64;
inline constexpr int kMostPhrases = 1000;
inline constexpr int kMostStages = 60;  // of a crescendo pedal
inline constexpr int kMostPeople = 10'000;
inline constexpr std::size_t kMostNames = 500;  // of stops, couplers or tremulants in one list
inline constexpr std::size_t kMostNameBytes = 200;

// A whole text as a finite number; nothing if anything is left over. No locale, no spaces.
[[nodiscard]] std::optional<double> number_from(std::string_view text);
[[nodiscard]] std::optional<int> integer_from(std::string_view text);

// "sign-only", "free", "hold 2"; nothing if it is none of these.
[[nodiscard]] std::optional<FermataRule> fermata_from(std::string_view text);
[[nodiscard]] std::string to_string(const FermataRule& rule);

// "4:3" or "4" (beat 1); the bar may be any printed text. Line is left 0.
[[nodiscard]] std::optional<Place> place_from(std::string_view text);
[[nodiscard]] std::string to_string(const Place& place);

}  // namespace loftbeat::plan
