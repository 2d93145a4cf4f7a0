#include "window/desk/words.h"

#include <utility>

#include <QCoreApplication>

namespace loftbeat::window {

Error for_window(Error error, const char* hint) {
  const bool command_line = error.hint.find("--") != std::string::npos ||
                            error.hint.find("loftbeat ") != std::string::npos;
  if (error.hint.empty() || command_line)
    error.hint = QCoreApplication::translate("desk", hint).toStdString();
  return error;
}

}  // namespace loftbeat::window
