#pragma once

namespace loftbeat::app {

// `loftbeat devices`: what this computer offers for MIDI and for sound, and why what does not
// answer does not; returns the exit code.
int run_devices();

}  // namespace loftbeat::app
