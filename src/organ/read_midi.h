#pragma once

// Private to organ/: the key `midi` of a control.

#include "base/toml_document.h"
#include "organ/instrument.h"

namespace loftbeat::organ {

// Absent: a mapping of kind none. What is wrong is noted at the item.
[[nodiscard]] MidiMapping midi_from(const TomlItem& item);

}  // namespace loftbeat::organ
