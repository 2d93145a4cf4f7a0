#include "app/devices_command.h"

#include <string>

#include "app/endings.h"
#include "base/file.h"
#include "live/devices/midi_ports.h"
#include "report/utf8.h"
#include "voice/playback.h"

namespace loftbeat::app {
namespace {

std::string midi_text() {
  std::string text = "MIDI inputs\n";
  for (const live::MidiSystem& system : live::look_for_midi()) {
    for (const std::string& name : system.inputs)
      text += "  " + report::clean_text(name) + "  (" + system.name + ")\n";
    if (!system.trouble.empty()) text += "  " + system.name + ": " + system.trouble + "\n";
    if (system.trouble.empty() && system.inputs.empty())
      text += "  " + system.name +
              ": nothing is connected. Connect the keyboard by its USB or MIDI cable and switch it "
              "on.\n";
  }
  return text;
}

std::string sound_text() {
  std::string text = "\nSound devices\n";
  const auto devices = voice::sound_devices();
  if (!devices) return text + "  " + to_string(devices.error()) + "\n";
  for (const voice::Device& device : *devices)
    text += "  " + report::clean_text(device.name) + (device.is_default ? "  (usual)" : "") + "\n";
  if (devices->empty())
    text += "  none. Connect loudspeakers or headphones; sound can still be written to a file.\n";
  return text;
}

}  // namespace

int run_devices() {
  // MIDI first: it keeps the systems' own remarks off the screen from then on.
  const std::string midi = midi_text();
  const Status shown = loftbeat::write_file("-", midi + sound_text());
  return shown ? kReviewed : fail(shown.error());
}

}  // namespace loftbeat::app
