#pragma once

// Private to live/devices: RtMidi without its remarks on standard error, and without exceptions.

#include <memory>
#include <string>

#include <rtmidi/RtMidi.h>

namespace loftbeat::live {

inline constexpr const char* kClientName = "Loftbeat";

[[nodiscard]] inline std::string system_name(RtMidi::Api api) {
  switch (api) {
    case RtMidi::LINUX_ALSA: return "ALSA";
    case RtMidi::UNIX_JACK: return "JACK";
    case RtMidi::MACOSX_CORE: return "Core MIDI";
    case RtMidi::WINDOWS_MM: return "Windows MM";
    default: return RtMidi::getApiDisplayName(api);
  }
}

// Null, with why, if the system does not answer.
[[nodiscard]] std::unique_ptr<RtMidiIn> make_input(RtMidi::Api api, std::string& trouble);

}  // namespace loftbeat::live
