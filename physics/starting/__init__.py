"""Starting methods: current, torque, time and heat from standstill to full speed."""
