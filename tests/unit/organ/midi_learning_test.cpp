// What a control sends, found by moving it. Messages as MIDI 1.0 has them: status 9n note on, Bn
// control change (98, 99 and 6: NRPN), Cn program change, F0 ... F7 exclusive.

#include "organ/midi_learning.h"

#include <gtest/gtest.h>

#include "base/file.h"
#include "organ/console.h"
#include "organ/read.h"

namespace loftbeat::organ {
namespace {

using take::EventKind;
using Events = std::vector<take::Event>;

take::Event said(EventKind kind, int channel, int data1, int data2 = 0) {
  take::Event made;
  made.kind = kind;
  made.channel = static_cast<std::uint8_t>(channel - 1);
  made.data1 = static_cast<std::uint8_t>(data1);
  made.data2 = static_cast<std::uint8_t>(data2);
  return made;
}
take::Event message(const std::string& bytes) {
  take::Event made;
  made.kind = EventKind::exclusive;
  made.bytes = bytes;
  return made;
}
Events nrpn(int channel, int number, int value) {
  return {said(EventKind::control, channel, 99, number / 128),
          said(EventKind::control, channel, 98, number % 128),
          said(EventKind::control, channel, 6, value)};
}
Events operator+(Events a, const Events& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

std::string found(const Events& on, const Events& off, LearnedFor what = LearnedFor::two_ways) {
  const auto mapping = learned_mapping(on, off, what);
  return mapping ? format_mapping(*mapping) : to_string(mapping.error());
}

TEST(MidiLearning, FindsEveryKindOfMessage) {
  EXPECT_EQ(found({said(EventKind::note_on, 10, 24, 127)}, {said(EventKind::note_off, 10, 24)}),
            "{ note = 24, channel = 10 }");
  EXPECT_EQ(found({said(EventKind::control, 1, 80, 127)}, {said(EventKind::control, 1, 80, 0)}),
            "{ control = 80, channel = 1, on = 127, off = 0 }");
  EXPECT_EQ(found({said(EventKind::control, 2, 80, 0)}, {said(EventKind::control, 2, 80, 64)}),
            "{ control = 80, channel = 2, on = 0, off = 64 }");
  EXPECT_EQ(found(nrpn(16, 1025, 127), nrpn(16, 1025, 0)),
            "{ nrpn = 1025, channel = 16, on = 127, off = 0 }");
  EXPECT_EQ(found({said(EventKind::program, 3, 4)}, {said(EventKind::program, 3, 5)}),
            "{ program = 4, off-program = 5, channel = 3 }");
  EXPECT_EQ(found({message("\xF0\x7D\x01\xF7")}, {message(std::string("\xF0\x7D\0\xF7", 4))}),
            "{ sysex = \"F0 7D 01 F7\", off-sysex = \"F0 7D 00 F7\" }");
}

TEST(MidiLearning, PistonsAreLearnedByOnePress) {
  EXPECT_EQ(found({said(EventKind::program, 10, 1)}, {}, LearnedFor::press),
            "{ program = 1, channel = 10 }");
  EXPECT_EQ(found({said(EventKind::note_on, 10, 30, 100), said(EventKind::note_off, 10, 30)}, {},
                  LearnedFor::press),
            "{ note = 30, channel = 10 }");
}

// A key that was touched in between, an expression pedal at rest, and messages that come both
// times.
TEST(MidiLearning, PassesOverWhatTellsNothing) {
  const Events noise = {said(EventKind::note_on, 1, 60, 80), said(EventKind::note_off, 1, 60),
                        said(EventKind::control, 1, 11, 90), message("\xF0\x7D\x22\xF7")};
  EXPECT_EQ(found(noise + Events{said(EventKind::control, 1, 80, 127)},
                  noise + Events{said(EventKind::control, 1, 80, 0)}),
            "{ control = 80, channel = 1, on = 127, off = 0 }");
}

TEST(MidiLearning, WhatIsUnclearIsTold) {
  EXPECT_NE(found({}, {}).find("nothing came"), std::string::npos);
  const Events same = {said(EventKind::control, 1, 80, 127)};
  EXPECT_NE(found(same, same).find("send the same"), std::string::npos);
  EXPECT_NE(
      found(nrpn(1, 5, 127) + nrpn(1, 6, 127), nrpn(1, 5, 0) + nrpn(1, 6, 0)).find("more than one"),
      std::string::npos);
}

// What is learned of a control moves exactly it, when its messages come again.
TEST(MidiLearning, TheDemoOrgansCanBeLearnedAnewAndReadTheSame) {
  for (const char* name : {"minimsby", "quaverham", "crotchet-cross"}) {
    const std::string path =
        std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/" + name + ".organ.toml";
    const std::string text = read_file(path).value();
    const Organ organ = parse_organ(text, path).value();
    std::vector<ControlPlace> places;
    for (std::size_t i = 0; i < organ.stops.size(); ++i) {
      MidiMapping midi;
      midi.kind = MidiMapping::Kind::nrpn;
      midi.channel = 5;
      midi.number = static_cast<int>(2000 + i);
      places.push_back({ControlPlace::Kind::stop, i, midi});
    }
    for (std::size_t i = 0; i < organ.pistons.size(); ++i) {
      MidiMapping midi;
      midi.kind = MidiMapping::Kind::note;
      midi.channel = 6;
      midi.number = static_cast<int>(i);
      places.push_back({ControlPlace::Kind::piston, i, midi});
    }
    const auto rewritten = with_mappings(text, path, places);
    ASSERT_TRUE(rewritten.ok()) << to_string(rewritten.error());
    Organ again = parse_organ(*rewritten, path).value();
    ASSERT_EQ(again.stops.size(), organ.stops.size());
    for (std::size_t i = 0; i < organ.stops.size(); ++i) {
      EXPECT_EQ(again.stops[i].midi, places[i].midi);
      EXPECT_EQ(again.stops[i].name, organ.stops[i].name);
      EXPECT_EQ(again.stops[i].location, organ.stops[i].location);
    }
    // Comments stay.
    EXPECT_EQ(rewritten->substr(0, rewritten->find('\n')), text.substr(0, text.find('\n')));
    ConsoleReader reader(again);
    std::vector<ConsoleMove> moves;
    for (const take::Event& one : nrpn(5, 2001, 127))
      for (const ConsoleMove& move : reader.feed(one)) moves.push_back(move);
    ASSERT_EQ(moves.size(), 1U);
    EXPECT_EQ(moves[0], (ConsoleMove{ConsoleMove::What::stop, 1, 1}));
  }
}

TEST(MidiLearning, LineEndsAndOddHeadersAreTaken) {
  const std::string text =
      "[[division]]\r\nname = \"Great\"\r\nchannel = 1\r\n[[ stop ]] # first\r\nname = "
      "\"Flute\"\r\n"
      "division = \"Great\"\r\npitch = \"8\"\r\nfamily = \"open-flute\"\r\nmidi={note=1,channel=1}";
  MidiMapping midi;
  midi.kind = MidiMapping::Kind::note;
  midi.number = 77;
  const auto rewritten = with_mappings(text, "x", {{ControlPlace::Kind::stop, 0, midi}});
  ASSERT_TRUE(rewritten.ok()) << to_string(rewritten.error());
  EXPECT_NE(rewritten->find("note = 77"), std::string::npos);
  EXPECT_EQ(rewritten->find("note=1"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::organ
