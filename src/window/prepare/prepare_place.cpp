#include "window/prepare/prepare_place.h"

namespace loftbeat::window {

PreparePlace::PreparePlace(Desk& desk, QWidget* parent) : Place(parent), desk_(desk) {}

}  // namespace loftbeat::window
