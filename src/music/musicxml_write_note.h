#pragma once

#include <cstdint>
#include <pugixml.hpp>
#include <string>

#include "music/musicxml_streams.h"

// Inside the MusicXML writer only.
namespace loftbeat::music {

// Appends an element that holds text or a number.
pugi::xml_node leaf(pugi::xml_node parent, const char* name, const std::string& text);
pugi::xml_node leaf(pugi::xml_node parent, const char* name, std::int64_t number);

// A note or a rest, or the part of one between two ties.
struct WrittenPiece {
  TickSpan span;               // of the score, inside one bar
  const Note* note = nullptr;  // nullptr: a rest
  NoteSigns signs;             // written on the last piece of a note, words on its first
  bool chord = false;          // struck with the piece before
  int voice = 0;
  int staff = 0;
  int fifths = 0;      // the key by which it is spelt
  int line_verse = 1;  // the verse that tells line ends
  int number = 0;      // of the piece, counted through the file
};

// Appends the <note>; `grain` is the length of one division in ticks.
void write_piece(pugi::xml_node measure, const WrittenPiece& piece, Tick grain);

}  // namespace loftbeat::music
