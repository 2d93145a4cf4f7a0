#pragma once

#include <string>

#include "app/kept_practice.h"
#include "base/result.h"

namespace loftbeat::window {

// A practice on A4: what to practise, each time through, the beat ribbons, the join strip, the
// stops. Type is embedded; black lines tell as much as colours. Any thread; needs Qt's application.
[[nodiscard]] Result<std::string> review_pdf(const app::ReviewedPractice& practice);

}  // namespace loftbeat::window
