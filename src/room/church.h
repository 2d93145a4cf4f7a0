#pragma once

#include <string>
#include <vector>

#include "room/air.h"
#include "room/materials.h"
#include "room/singing.h"

namespace loftbeat::room {

// A church as its file describes it (docs in room/read.h).

struct Surface {
  std::string name;      // for the reader of the file; may be empty
  std::string material;  // id, of the table or of the file
  OctaveTable absorption{};
  double area_m2 = 0;
};

// A block of seating.
struct Pews {
  double area_m2 = 0;  // of floor, narrow aisles included
  int seats = 0;
  OctaveTable empty{};
  OctaveTable full{};  // all seats taken; used only when people count by area
};

// How people enter the sum.
enum class PeopleCount {
  each,     // so much absorption a head, on top of the empty pews
  by_area,  // the pew area goes over from empty to full with the share of seats taken
};

struct Distances {
  double organ_to_people_m = 12;
  double organ_to_player_m = 3;
  double people_to_player_m = 10;  // to the middle of the congregation
};

struct Church {
  std::string name;
  double volume_m3 = 0;
  std::vector<Surface> surfaces;  // without the pews
  std::vector<Pews> pews;         // at least one
  PeopleCount people_count = PeopleCount::each;
  OctaveTable person{};  // m2 a head, for PeopleCount::each
  int people_expected = 0;
  double organ_directivity = 1;  // Q towards the people
  Effort effort = Effort::raised;
  double voice_directivity_db = kVoiceDirectivityDb;
  Distances distance;
  Air air;

  [[nodiscard]] double pew_area_m2() const;
  [[nodiscard]] int seats() const;
  // All boundaries, pew area included.
  [[nodiscard]] double surface_m2() const;
};

}  // namespace loftbeat::room
