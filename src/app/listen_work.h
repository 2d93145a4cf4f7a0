#pragma once

#include <memory>
#include <string>
#include <vector>

#include "advise/desk_step.h"
#include "app/checked_plan.h"
#include "app/listen_command.h"
#include "live/click_track.h"
#include "live/live_view.h"
#include "practice/click_rests.h"

namespace loftbeat::app {

// What is going to be played, with all that is told of it meanwhile. It points into itself and
// stays where it is.
struct ListenWork {
  plan::Plan plan;    // as it is kept with the practice: the file's, or a drill made of it
  std::string tune;   // for names
  std::string words;  // about the drill; empty if there is nothing to say
  CheckedFile checked;
  std::vector<advise::DeskStep> steps;  // one for each join; empty without an organ
  live::ClickTrack track;
  double quiet_seconds = 10;  // so long a silence ends the practice

  [[nodiscard]] const organ::Organ* organ() const {
    return checked.context->console == nullptr ? nullptr : &checked.data.organ;
  }
  [[nodiscard]] live::LiveView::Work view() const;
  // The clicked beats on the take's clock, the first note due at `first_note_s`.
  [[nodiscard]] std::vector<practice::CountedBeat> counted(double first_note_s) const;
};

// Errors: what readers say; a part that is not there; stops that the organ does not have.
[[nodiscard]] Result<std::unique_ptr<ListenWork>> listen_work(const ListenOrder& order,
                                                              live::ClickMode click);

}  // namespace loftbeat::app
