#include "window/keys/keys_place.h"

namespace loftbeat::window {

KeysPlace::KeysPlace(Desk& desk, QWidget* parent) : Place(parent), desk_(desk) {}

}  // namespace loftbeat::window
