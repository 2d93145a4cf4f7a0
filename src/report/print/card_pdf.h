#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "report/card.h"

class QPagedPaintDevice;

namespace loftbeat::report {

// The cards as one PDF, A5 upright, a page for each page of each card, with the type embedded. Qt
// needs one application object in the process: if there is none yet, one without a screen is made
// for the call; so call it from the main thread. Errors: Qt cannot write, or this computer has no
// type to print with.
[[nodiscard]] Result<std::string> cards_pdf(const std::vector<Card>& cards,
                                            const std::string& title);

// The same onto paper: `device` is set to A5 without margins. Errors: it refuses.
[[nodiscard]] Status print_cards(const std::vector<Card>& cards, QPagedPaintDevice& device);

}  // namespace loftbeat::report
