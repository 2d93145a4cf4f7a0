#include "window/desk/place.h"

namespace loftbeat::window {

Place::Place(QWidget* parent) : QWidget(parent) {}

}  // namespace loftbeat::window
