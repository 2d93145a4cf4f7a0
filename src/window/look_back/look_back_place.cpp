#include "window/look_back/look_back_place.h"

namespace loftbeat::window {

LookBackPlace::LookBackPlace(Desk& desk, QWidget* parent) : Place(parent), desk_(desk) {}

}  // namespace loftbeat::window
