#include "window/look_back/tables.h"

#include <QHeaderView>
#include <QTableWidget>

#include "window/desk/words.h"

namespace loftbeat::window {

QTableWidget* make_table(const report::Table& table, const QString& name) {
  const auto columns = static_cast<int>(table.columns.size());
  const auto rows = static_cast<int>(table.rows.size());
  auto* widget = new QTableWidget(rows, columns);
  widget->setAccessibleName(name);
  widget->setEditTriggers(QAbstractItemView::NoEditTriggers);
  widget->setSelectionMode(QAbstractItemView::SingleSelection);
  widget->setTabKeyNavigation(false);
  widget->verticalHeader()->hide();
  widget->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  widget->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  for (int c = 0; c < columns; ++c) {
    const report::Column& column = table.columns[static_cast<std::size_t>(c)];
    const QString gap =
        column.first.empty() || column.second.empty() ? QString() : QStringLiteral("\n");
    widget->setHorizontalHeaderItem(
        c, new QTableWidgetItem(words(column.first) + gap + words(column.second)));
    for (int r = 0; r < rows; ++r) {
      const report::Cell& cell =
          table.rows[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)];
      const bool raised = cell.flag == report::Cell::Flag::raised;
      auto* item =
          new QTableWidgetItem(words(cell.text) + (raised ? QStringLiteral(" !") : QString()));
      QFont font = item->font();
      font.setBold(raised);
      item->setFont(font);
      const bool left = column.side == report::Column::Side::left;
      item->setTextAlignment((left ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
      widget->setItem(r, c, item);
    }
  }
  widget->resizeColumnsToContents();
  widget->resizeRowsToContents();
  int height = widget->horizontalHeader()->sizeHint().height() + 2 * widget->frameWidth() + 18;
  for (int r = 0; r < rows; ++r) height += widget->rowHeight(r);
  widget->setFixedHeight(height);
  return widget;
}

}  // namespace loftbeat::window
