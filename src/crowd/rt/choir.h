#pragma once

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/one_way_queue.h"
#include "crowd/rt/chance.h"

namespace loftbeat::crowd::rt {

// People singing one tune together, each with a voice, a place and habits of his own.
//
//   for each person: wave table (one period) -> vibrato -> swelling and dying away -> two channels
//
// The clock is frames of 1/48000 s from the first frame rendered, as in voice/rt.

inline constexpr int kSampleRate = 48000;
inline constexpr std::size_t kWaveFrames = 2048;
// One period and its first sample again; mean square 1.
using Wave = std::array<float, kWaveFrames + 1>;

inline constexpr int kLowestPitch = 36;   // what is sung lies between these; other notes are moved
inline constexpr int kHighestPitch = 88;  // by octaves until they do

// Steps of rendering: voices begin and pitches move at these only (0.67 ms).
inline constexpr std::size_t kStepFrames = 32;
// The voice of one person swells in 70 ms and dies away in 60 ms (assumed; a sung vowel).
inline constexpr std::int64_t kSwellFrames = 3360;
inline constexpr std::int64_t kDieFrames = 2880;
// How late a person may be against the earliest: 130 ms.
inline constexpr std::int64_t kMostScatterFrames = 6240;
// A note's frame is the moment in the middle of the people's coming in, reckoned at half of each
// one's swelling. The earliest is so much before: hand events over in time (100 ms).
inline constexpr std::int64_t kLeadFrames = kMostScatterFrames / 2 + kSwellFrames / 2;

// One who sings.
struct Person {
  int octave = 0;             // 0: as written; -1: an octave lower
  std::size_t voice = 0;      // index into ChoirSpec::voices
  double cents = 0;           // off the pitch, always
  double left = 1;            // amplitude in each channel
  double right = 1;           //
  double late_s = 0;          // than the middle of all, always; negative = early
  double vibrato_hz = 5.5;    //
  double vibrato_cents = 15;  // either way
};

struct ChoirSpec {
  // By kind of voice, then by pitch from kLowestPitch to kHighestPitch.
  std::vector<std::vector<Wave>> voices;
  std::vector<Person> persons;
  double note_scatter_s = 0.025;  // standard deviation, anew with each note and person
  std::uint64_t seed = 1;
};

enum class Sing : std::uint8_t {
  note,     // pitch as written: MIDI key number; takes the place of the one before
  silence,  // ends the note
  volume,   // value = dB, kSilentDb to 40
};
// This and less is no sound at all.
inline constexpr float kSilentDb = -80;
// The volume moves by so much a second, and rises from kQuietStartDb when rendering begins.
inline constexpr double kVolumeDbPerSecond = 60;
inline constexpr double kQuietStartDb = -40;

struct Event {
  std::int64_t frame = 0;  // when; what comes later than kLeadFrames before it sounds late
  Sing what = Sing::note;
  std::uint8_t pitch = 60;
  float value = 0;
};
using EventQueue = OneWayQueue<Event, 1024>;

// render() belongs to the audio thread: no lock, no allocation, no file, no log. post() belongs to
// one other thread. All memory is taken by the constructor.
class Choir {
 public:
  // Requires a voice for each person, with kHighestPitch - kLowestPitch + 1 waves.
  explicit Choir(ChoirSpec spec);

  // Hands over one event, in order of time; false if the queue is full.
  [[nodiscard]] bool post(const Event& event) { return queue_.push(event); }

  // Adds the singing to what is there. Whatever number of frames is asked for, the sound is the
  // same. Worked number: an event of frame 48000 begins to sound, person by person, between frame
  // 43200 and 49440; half of the amplitude is there at 48000.
  void render(float* left, float* right, std::size_t frames);
  // The same within a stream whose frames are counted by others: `first` is the stream's number of
  // the first frame asked for. Where frames were left out, or counting begins anew, people go on
  // from there: what should have begun meanwhile begins at once.
  void render_from(std::int64_t first, float* left, float* right, std::size_t frames);

  // Any thread. The next frame.
  [[nodiscard]] std::int64_t frames_rendered() const {
    return told_frames_.load(std::memory_order_relaxed);
  }
  [[nodiscard]] std::uint64_t events_refused() const { return queue_.refused(); }

 private:
  // One note of one person, from its beginning until it has died away.
  struct Tone {
    const Wave* wave = nullptr;  // null: silent
    std::uint32_t phase = 0;     // turns * 2^32
    double turns = 0;            // a frame, without vibrato
    float swell = 0;             // 0 to 1, before its rounding
    float slope = 0;             // a frame
  };
  struct Singer {
    Person person;
    std::array<Tone, 2> tones;
    std::size_t current = 0;
    bool waiting = false;  // for `begin`, to sing `pitch` (or, at -1, to stop)
    std::int64_t begin = 0;
    int pitch = -1;
    double vibrato = 0;  // turns
  };
  void take_events();
  void tell_all(std::int64_t middle, int pitch);
  void begin_due(Singer& singer);
  void sing(Singer& singer);
  void sing(Tone& tone, const Person& person, double bend);
  void render_step();
  void move_volume();

  EventQueue queue_;
  std::vector<std::vector<Wave>> voices_;
  std::vector<Singer> singers_;
  double note_scatter_s_;
  Chance chance_;
  std::int64_t next_ = 0;            // to be handed out
  std::int64_t now_ = 0;             // first frame of the next step
  std::size_t ready_ = kStepFrames;  // frames of the step already handed out
  std::array<float, kStepFrames> left_{};
  std::array<float, kStepFrames> right_{};
  double wanted_db_ = 0;
  double reached_db_ = kQuietStartDb;
  double gain_ = 0;  // amplitude at the end of the last step
  std::atomic<std::int64_t> told_frames_{0};
};

}  // namespace loftbeat::crowd::rt
