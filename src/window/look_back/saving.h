#pragma once

#include <string>

#include "app/kept_practice.h"
#include "base/result.h"
#include "window/desk/long_work.h"
#include "window/look_back/hearing.h"
#include "window/look_back/pass_views.h"

namespace loftbeat::window {

// What can be saved of a practice.
enum class SaveAs { page, pdf, json, midi, wav };
inline constexpr int kSaveKinds = 5;

[[nodiscard]] QString save_name(SaveAs kind);    // "Page for a browser"
[[nodiscard]] QString save_ending(SaveAs kind);  // ".html"

// Writes it; blocks, tells how far it is, ends when it is cancelled and leaves nothing half
// written. What was there under that name is replaced: ask before. Errors say what to do.
// `hear`: for the sound, with which stops; its plan, take and target are set here.
[[nodiscard]] Status save_practice(const app::ReviewedPractice& practice, SaveAs kind,
                                   const std::string& path, HearOrder hear, WorkState& state);

// The take with a marker where each pass begins, as a Standard MIDI File.
[[nodiscard]] std::string take_with_passes(const app::ReviewedPractice& practice);

}  // namespace loftbeat::window
