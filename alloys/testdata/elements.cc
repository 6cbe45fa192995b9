// Prints what libelemental knows of each element named on the command line:
// symbol, density of the solid in g/cm3, melting point in K, specific heat in
// J/gK, conductivity of heat in W/mK. What the library does not know is printed as "unknown".
#include <libelemental/element.hh>
#include <libelemental/properties.hh>
#include <libelemental/table.hh>

#include <iostream>

using namespace Elemental;

template <class P> static void print(const Element &element, const P &property) {
	const auto &value = element.get_property(property);
	if (value.has_value())
		std::cout << ' ' << value.value;
	else
		std::cout << " unknown";
}

int main(int argc, char **argv) {
	for (int i = 1; i < argc; i++) {
		const Element &element = get_element(std::string(argv[i]));
		std::cout << argv[i];
		print(element, P_DENSITY_SOLID);
		print(element, P_MELTING_POINT);
		print(element, P_SPECIFIC_HEAT);
		print(element, P_THERMAL_CONDUCTIVITY);
		std::cout << '\n';
	}
}
