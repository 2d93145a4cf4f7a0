#pragma once

#include <QString>

#include "report/table.h"

class QTableWidget;

namespace loftbeat::window {

// A table of the report as a widget that takes as much height as it needs. Flagged cells carry a
// "!" and stand bold, so that nothing hangs on a colour.
[[nodiscard]] QTableWidget* make_table(const report::Table& table, const QString& name);

}  // namespace loftbeat::window
