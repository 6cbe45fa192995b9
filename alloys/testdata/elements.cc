// Prints density (g/cm³), melting point (K) and specific heat (J/gK) of the
// elements of the bench as libelemental has them.
#include <libelemental/element.hh>
#include <libelemental/properties.hh>
#include <libelemental/table.hh>

#include <iostream>

using namespace Elemental;

int main() {
  for (const char *symbol : {"Ag", "Cu", "Sn", "Al"}) {
    const Element &e = get_element(symbol);
    std::cout << symbol << ' ' << e.get_property(P_DENSITY_SOLID).value << ' '
              << e.get_property(P_MELTING_POINT).value << ' '
              << e.get_property(P_SPECIFIC_HEAT).value << '\n';
  }
}
