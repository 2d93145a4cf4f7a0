#pragma once

#include <optional>

#include "organ/organ.h"

class QWidget;

namespace loftbeat::window {

// Lets the user draw stops and couplers of an organ; nothing if it was left without choosing.
[[nodiscard]] std::optional<organ::Registration> ask_for_stops(const organ::Organ& organ,
                                                               organ::Registration drawn,
                                                               QWidget* parent);

}  // namespace loftbeat::window
