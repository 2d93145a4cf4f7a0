#pragma once

#include <string>

#include "practice/review.h"

namespace loftbeat::report {

// The review as JSON, format "loftbeat-review" version 1, as loftbeat-review.schema.json beside
// this file describes it (JSON Schema, draft 2020-12, every unit in words). Pure; linear in the
// number of notes, about 1 µs a note.
[[nodiscard]] std::string format_json(const practice::Review& review);

}  // namespace loftbeat::report
